package home

import (
	"os"

	"golang.org/x/sys/windows"
)

func lockFile(f *os.File) error {
	if windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, new(windows.Overlapped)) != nil {
		return ErrRunning
	}
	return nil
}
