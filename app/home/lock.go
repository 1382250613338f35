package home

import (
	"errors"
	"os"
	"path/filepath"
)

// ErrRunning says that another copy of the program has the data folder open.
var ErrRunning = errors.New("home: another copy of the program has this register open; use that window, or close it first")

// Lock is held while the program runs; the system drops it when the process ends, however it ends.
type Lock struct{ f *os.File }

// TakeLock takes the folder's lock or says ErrRunning.
func TakeLock(dir string) (*Lock, error) {
	f, err := os.OpenFile(filepath.Join(dir, "lock"), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	if err := lockFile(f); err != nil {
		f.Close()
		return nil, err
	}
	return &Lock{f}, nil
}

// Release lets the folder go.
func (l *Lock) Release() error { return l.f.Close() }
