package home

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
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
	ReadDir(path string) ([]fs.DirEntry, error)
	Copy(from, to string) error // whole and synced; what was there goes
	Sync(path string) error     // a file that somebody else wrote
}

// Disk is the real file system.
type Disk struct{}

func (Disk) ReadFile(p string) ([]byte, error)       { return os.ReadFile(p) }
func (Disk) Rename(a, b string) error                { return os.Rename(a, b) }
func (Disk) Remove(p string) error                   { return os.Remove(p) }
func (Disk) MkdirAll(p string, m fs.FileMode) error  { return os.MkdirAll(p, m) }
func (Disk) Stat(p string) (fs.FileInfo, error)      { return os.Stat(p) }
func (Disk) ReadDir(p string) ([]fs.DirEntry, error) { return os.ReadDir(p) }

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

// Copy copies a file that no program has open.
func (Disk) Copy(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// Sync opens for writing: some systems sync nothing that is open for reading.
func (Disk) Sync(p string) error {
	f, err := os.OpenFile(p, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// SyncDir makes a rename last, where the system can.
func (Disk) SyncDir(p string) error {
	d, err := os.Open(p)
	if err != nil {
		return err
	}
	err = d.Sync()
	if runtime.GOOS == "windows" || errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		err = nil // not every system can
	}
	return errors.Join(err, d.Close())
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
