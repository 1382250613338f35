package home

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// FS is what our own files need of a file system. (SQLite brings its own.)
type FS interface {
	ReadFile(path string) ([]byte, error)
	WriteSynced(path string, data []byte, perm fs.FileMode) error // whole file, synced
	Rename(from, to string) error
	Remove(path string) error
	MkdirAll(path string, perm fs.FileMode) error
	Stat(path string) (fs.FileInfo, error)
	SyncDir(path string) error
}

// Disk is the real file system.
type Disk struct{}

func (Disk) ReadFile(p string) ([]byte, error)      { return os.ReadFile(p) }
func (Disk) Rename(a, b string) error               { return os.Rename(a, b) }
func (Disk) Remove(p string) error                  { return os.Remove(p) }
func (Disk) MkdirAll(p string, m fs.FileMode) error { return os.MkdirAll(p, m) }
func (Disk) Stat(p string) (fs.FileInfo, error)     { return os.Stat(p) }

// WriteSynced writes a new file through to the disk.
func (Disk) WriteSynced(p string, data []byte, m fs.FileMode) error {
	f, err := os.OpenFile(p, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, m)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// SyncDir makes a rename last, where the system can.
func (Disk) SyncDir(p string) error {
	d, err := os.Open(p)
	if err != nil {
		return err
	}
	_ = d.Sync() // not every system can
	return d.Close()
}

// Replace puts a file in place whole: the old one or the new one, never half.
func Replace(f FS, path string, data []byte, perm fs.FileMode) error {
	return replace(f, path, data, perm)
}

func replace(f FS, path string, data []byte, perm fs.FileMode) error {
	part := path + ".part"
	if err := f.WriteSynced(part, data, perm); err != nil {
		return errors.Join(err, f.Remove(part))
	}
	if err := f.Rename(part, path); err != nil {
		return err
	}
	return f.SyncDir(filepath.Dir(path))
}
