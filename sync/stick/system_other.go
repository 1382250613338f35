//go:build !windows && !linux && !darwin

package stick

import (
	"errors"
	"os"
)

func dropCache(*os.File) error { return nil }

// drives cannot be told here; a person names the folder.
func drives() ([]Drive, error) {
	return nil, errors.New("stick: drives cannot be listed on this system")
}
