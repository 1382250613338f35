package store

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Backup writes a copy of the register to a new file and counts it as made only
// after the copy was opened, checked whole and synced. A live file is never copied
// byte by byte: measured, every such copy is stale or broken.
func (s *Store) Backup(path string) (Report, error) {
	part := path + ".part"
	if _, err := os.Stat(path); err == nil {
		return Report{}, fmt.Errorf("store: %s is already there; backups are never written over", path)
	}
	if err := os.Remove(part); err != nil && !errors.Is(err, os.ErrNotExist) {
		return Report{}, err
	}
	s.mu.Lock()
	_, err := s.reg.Exec("VACUUM INTO ?", part)
	s.mu.Unlock()
	if err != nil {
		return Report{}, errors.Join(err, os.Remove(part))
	}
	r, err := CheckCopy(part)
	if err == nil && !r.OK() {
		err = &Damage{errors.New(r.Faults[0])}
	}
	if err == nil {
		err = syncFile(part)
	}
	if err == nil {
		err = os.Rename(part, path)
	}
	if err != nil {
		return r, errors.Join(err, os.Remove(part))
	}
	return r, syncFile(filepath.Dir(path))
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

func syncFile(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// CopyTo copies a file that no program has open, synced, to a new name.
func CopyTo(from, to string) error {
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

// SyncDir makes renames in a folder last.
func SyncDir(dir string) error { return syncFile(dir) }
