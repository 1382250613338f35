package work_test

import (
	"io/fs"
	"os"
	"path/filepath"

	"mvuke/app/home"
	"mvuke/sync/stick"
)

// ask does an operation unless it is the one that fails.
func ask[T any](f *faults, op, path string, do func() (T, error)) (none T, err error) {
	if err := f.hit(op + " " + filepath.Base(path)); err != nil {
		return none, err
	}
	return do()
}

func (f *faults) ask(op, path string, do func() error) error {
	_, err := ask(f, op, path, func() (struct{}, error) { return struct{}{}, do() })
	return err
}

// faultyHome is the disk with our own files on it: keys, sealed files, the witness, copies of the register. Nothing is synced: no test that uses it
// cuts the power.
type faultyHome struct {
	home.Disk
	*faults
}

func (x faultyHome) ReadFile(p string) ([]byte, error) {
	return ask(x.faults, "read", p, func() ([]byte, error) { return x.Disk.ReadFile(p) })
}
func (x faultyHome) ReadDir(p string) ([]fs.DirEntry, error) {
	return ask(x.faults, "read folder", p, func() ([]fs.DirEntry, error) { return x.Disk.ReadDir(p) })
}
func (x faultyHome) Stat(p string) (fs.FileInfo, error) {
	return ask(x.faults, "stat", p, func() (fs.FileInfo, error) { return x.Disk.Stat(p) })
}
func (x faultyHome) Rename(a, b string) error {
	return x.ask("rename", a, func() error { return x.Disk.Rename(a, b) })
}
func (x faultyHome) Remove(p string) error {
	return x.ask("remove", p, func() error { return x.Disk.Remove(p) })
}
func (x faultyHome) MkdirAll(p string, m fs.FileMode) error {
	return x.ask("make folder", p, func() error { return x.Disk.MkdirAll(p, m) })
}
func (x faultyHome) Sync(p string) error    { return x.hit("sync " + filepath.Base(p)) }
func (x faultyHome) SyncDir(p string) error { return x.hit("sync folder " + filepath.Base(p)) }

// WriteSynced and Copy write half where they fail, as on a full disk.
func (x faultyHome) WriteSynced(p string, b []byte, m fs.FileMode) error {
	if err := x.hit("write " + filepath.Base(p)); err != nil {
		os.WriteFile(p, b[:len(b)/2], m)
		return err
	}
	return os.WriteFile(p, b, m)
}
func (x faultyHome) Copy(from, to string) error {
	b, err := x.ReadFile(from)
	if err != nil {
		return err
	}
	return x.WriteSynced(to, b, 0o600)
}

// faultyStick is a stick.
type faultyStick struct {
	stick.Disk
	*faults
}

func (x faultyStick) file(op, p string, open func(string) (stick.File, error)) (stick.File, error) {
	g, err := ask(x.faults, op, p, func() (stick.File, error) { return open(p) })
	return faultyFile{g, x.faults}, err
}
func (x faultyStick) Create(p string) (stick.File, error) { return x.file("create", p, x.Disk.Create) }
func (x faultyStick) Reopen(p string) (stick.File, error) { return x.file("reopen", p, x.Disk.Reopen) }
func (x faultyStick) OpenDir(p string) (fs.ReadDirFile, error) {
	d, err := ask(x.faults, "open folder", p, func() (fs.ReadDirFile, error) { return x.Disk.OpenDir(p) })
	return faultyDir{d, x.faults}, err
}
func (x faultyStick) OpenPlain(p string) (fs.File, error) {
	g, err := ask(x.faults, "open", p, func() (fs.File, error) { return x.Disk.OpenPlain(p) })
	return faultyPlain{g, x.faults}, err
}
func (x faultyStick) Stat(p string) (fs.FileInfo, error) {
	return ask(x.faults, "stat", p, func() (fs.FileInfo, error) { return x.Disk.Stat(p) })
}
func (x faultyStick) Rename(a, b string) error {
	return x.ask("rename", a, func() error { return x.Disk.Rename(a, b) })
}
func (x faultyStick) Remove(p string) error {
	return x.ask("remove", p, func() error { return x.Disk.Remove(p) })
}
func (x faultyStick) SyncDir(p string) error { return x.hit("sync folder " + filepath.Base(p)) }

type faultyFile struct {
	stick.File
	*faults
}

func (x faultyFile) Write(b []byte) (int, error) {
	if err := x.hit("write"); err != nil {
		n, _ := x.File.Write(b[:len(b)/2])
		return n, err
	}
	if x.lie("write") {
		return x.File.Write(make([]byte, len(b)))
	}
	return x.File.Write(b)
}
func (x faultyFile) ReadAt(b []byte, off int64) (int, error) {
	return ask(x.faults, "read back", "", func() (int, error) { return x.File.ReadAt(b, off) })
}
func (x faultyFile) Sync() error { return x.hit("sync") }

type faultyDir struct {
	fs.ReadDirFile
	*faults
}

func (x faultyDir) ReadDir(n int) (list []fs.DirEntry, err error) {
	if err := x.hit("read folder"); err != nil {
		return nil, err
	}
	return x.ReadDirFile.ReadDir(n) // what it read before its end comes with the end
}

type faultyPlain struct {
	fs.File
	*faults
}

func (x faultyPlain) Read(b []byte) (int, error) {
	return ask(x.faults, "read", "", func() (int, error) { return x.File.Read(b) })
}
