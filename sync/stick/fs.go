package stick

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// FS is what writing to a drive and looking through it need of a file system. Tests let the n-th operation fail.
type FS interface {
	Create(path string) (File, error) // new; fs.ErrExist where it is there
	Reopen(path string) (File, error) // for reading and writing
	Rename(from, to string) error
	Remove(path string) error
	Stat(path string) (fs.FileInfo, error)
	SyncDir(path string) error
	Free(path string) int64 // bytes; -1 where it cannot be told

	OpenDir(path string) (fs.ReadDirFile, error)
	OpenPlain(path string) (fs.File, error) // for reading only; follows no link and waits for no pipe
}

// File is an open file.
type File interface {
	io.Writer
	io.ReaderAt
	Sync() error
	DropCache() error // so that what is read next comes from the drive, where the system can
	Close() error
}

// Disk is the real file system.
type Disk struct{}

type diskFile struct{ *os.File }

func (f diskFile) DropCache() error { return dropCache(f.File) }

// Create makes a new file.
func (Disk) Create(p string) (File, error) {
	f, err := os.OpenFile(p, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	return diskFile{f}, nil
}

// Reopen opens a file for reading and writing.
func (Disk) Reopen(p string) (File, error) {
	f, err := os.OpenFile(p, os.O_RDWR, 0)
	if err != nil {
		return nil, err
	}
	return diskFile{f}, nil
}

// Rename, Remove and Stat are the system's.
func (Disk) Rename(a, b string) error { return os.Rename(a, b) }

// Remove takes a file away.
func (Disk) Remove(p string) error { return os.Remove(p) }

// Stat looks at a file, not at what a link points to.
func (Disk) Stat(p string) (fs.FileInfo, error) { return os.Lstat(p) }

// Free is the room on the drive of a folder.
func (Disk) Free(p string) int64 { return freeBytes(p) }

// OpenDir opens a folder, to be read in pieces.
func (Disk) OpenDir(p string) (fs.ReadDirFile, error) {
	d, err := os.Open(p)
	if err != nil {
		return nil, err
	}
	return d, nil
}

// OpenPlain opens a file for reading, follows no link and waits for no pipe.
func (Disk) OpenPlain(p string) (fs.File, error) {
	f, err := openPlain(p)
	if err != nil {
		return nil, err
	}
	return f, nil
}

// SyncDir makes a folder's names durable, where the system can.
func (Disk) SyncDir(p string) error { return syncDir(filepath.Clean(p)) }

// full says that an error comes of a full drive.
func full(err error) bool { return errors.Is(err, errFull) }
