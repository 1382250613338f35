//go:build !windows

package stick

import (
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

var (
	errFull     error = syscall.ENOSPC
	errReadOnly error = syscall.EROFS
)

// openPlain opens a file for reading, follows no link and waits for no pipe.
func openPlain(path string) (*os.File, error) {
	return os.OpenFile(path, os.O_RDONLY|unix.O_NOFOLLOW|unix.O_NONBLOCK, 0)
}

func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}

func freeBytes(dir string) int64 {
	var st unix.Statfs_t
	if unix.Statfs(dir, &st) != nil {
		return -1
	}
	return int64(st.Bavail) * int64(st.Bsize)
}
