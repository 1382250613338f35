package store

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Backup writes a copy of the register to a new file and counts it as made only
// after the copy was opened, checked whole and synced. A live file is never copied
// byte by byte: measured, every such copy is stale or broken.
func (s *Store) Backup(path string) (Report, error) {
	part := path + ".part"
	switch _, err := s.fs.Stat(path); {
	case err == nil:
		return Report{}, fmt.Errorf("store: %s is already there; backups are never written over", path)
	case !errors.Is(err, fs.ErrNotExist):
		return Report{}, err
	}
	if err := s.fs.Remove(part); err != nil && !errors.Is(err, os.ErrNotExist) {
		return Report{}, err
	}
	s.mu.Lock()
	_, err := s.reg.Exec("VACUUM INTO ?", part)
	s.mu.Unlock()
	if err != nil {
		return Report{}, errors.Join(err, s.fs.Remove(part))
	}
	r, err := CheckCopy(part)
	if err == nil && !r.OK() {
		err = &Damage{errors.New(r.Faults[0])}
	}
	if err == nil {
		err = s.fs.Sync(part)
	}
	if err == nil {
		err = s.fs.Rename(part, path)
	}
	if err != nil {
		return r, errors.Join(err, s.fs.Remove(part))
	}
	return r, s.fs.SyncDir(filepath.Dir(path))
}

// CheckCopy opens a copy of a register, read only, and checks every entry of it.
func CheckCopy(path string) (Report, error) {
	if _, err := os.Stat(path); err != nil {
		return Report{}, err
	}
	db, err := sql.Open("sqlite", copyDSN(path))
	if err != nil {
		return Report{}, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	var app int
	if err := db.QueryRow("PRAGMA application_id").Scan(&app); err != nil || app != applicationID {
		return Report{}, errors.Join(ErrForeign, err)
	}
	var r Report
	var word string
	if err := db.QueryRow("PRAGMA integrity_check").Scan(&word); err != nil {
		return r, err
	}
	if word != "ok" {
		r.Faults = append(r.Faults, word)
	}
	s := &Store{reg: db}
	return r, s.chains(&r, nil)
}

// FS is what keeping a copy needs of a file system. (SQLite brings its own, and writes the copy by it.)
type FS interface {
	Stat(path string) (fs.FileInfo, error)
	Remove(path string) error
	Rename(from, to string) error
	Sync(path string) error
	SyncDir(path string) error
}

// disk is the real one.
type disk struct{}

func (disk) Stat(p string) (fs.FileInfo, error) { return os.Stat(p) }
func (disk) Remove(p string) error              { return os.Remove(p) }
func (disk) Rename(a, b string) error           { return os.Rename(a, b) }
func (disk) Sync(p string) error                { return syncAs(p, os.O_RDWR) }
func (disk) SyncDir(p string) error             { return syncAs(p, os.O_RDONLY) }

func syncAs(path string, how int) error {
	f, err := os.OpenFile(path, how, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
