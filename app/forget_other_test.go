//go:build !linux

package app

import "errors"

// forgetFiles cannot be done here.
func forgetFiles(string) error {
	return errors.New("this system cannot be told to forget files")
}
