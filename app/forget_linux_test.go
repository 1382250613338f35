package app

import (
	"errors"
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// forgetFiles has the system let go of what it keeps in memory of the files of a folder: what is measured next reads the disk.
func forgetFiles(dir string) error {
	names, err := filepath.Glob(filepath.Join(dir, "*.db*"))
	for _, name := range names {
		f, e := os.OpenFile(name, os.O_RDWR, 0)
		if e == nil {
			e = errors.Join(f.Sync(), unix.Fadvise(int(f.Fd()), 0, 0, unix.FADV_DONTNEED), f.Close())
		}
		err = errors.Join(err, e)
	}
	return err
}
