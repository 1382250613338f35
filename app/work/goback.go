package work

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"mvuke/app/home"
	"mvuke/model/store"
)

// Going back to a copy. Wherever it is cut short, the next start finds the old register whole or goes on to the copy: the copy lies ready before anything moves, beside where the old
// register goes, which moves first. A folder without a register and with a copy that lies ready is one that was cut short.

// ready is the copy, in the folder where the old register is set aside.
const ready = store.RegisterFile + ".new"

// Restore puts a verified copy in place of the register in a folder that no program has
// open. What was there is set aside, never written over.
func Restore(from, dir string, now time.Time) (aside string, r store.Report, err error) {
	return RestoreOn(home.Disk{}, from, dir, now)
}

// RestoreOn is Restore on a file system of the caller's.
func RestoreOn(f home.FS, from, dir string, now time.Time) (aside string, r store.Report, err error) {
	if r, err = sound(from); err != nil {
		return "", r, err
	}
	if err = f.MkdirAll(dir, 0o700); err == nil {
		err = goOn(f, dir) // one that was cut short has set a part aside
	}
	if err == nil {
		aside, err = freeAside(f, dir, now)
	}
	if err != nil {
		return aside, r, notBack(err)
	}
	if err := lay(f, from, aside); err != nil {
		return aside, r, notBack(errors.Join(err, f.Remove(filepath.Join(aside, ready))))
	}
	return aside, r, notBack(swap(f, dir, aside))
}

func notBack(err error) error {
	var told *Refusal
	if err == nil || errors.As(err, &told) {
		return err
	}
	return wrap(err, "restore-failed", err.Error())
}

// sound refuses what is no whole copy of a register.
func sound(copy string) (store.Report, error) {
	r, err := store.CheckCopy(copy)
	if err != nil {
		return r, wrap(err, "copy-unusable", copy)
	}
	if !r.OK() {
		return r, refuse("copy-damaged", copy, strings.Join(r.Faults, "; "))
	}
	return r, nil
}

// freeAside makes a folder that was not there.
func freeAside(f home.FS, dir string, now time.Time) (string, error) {
	first := filepath.Join(dir, "aside-"+now.UTC().Format("20060102-150405"))
	for n, aside := 2, first; ; n++ {
		there, err := lies(f, aside)
		if err != nil {
			return "", err
		}
		if !there {
			return aside, f.MkdirAll(aside, 0o700)
		}
		aside = first + "-" + strconv.Itoa(n)
	}
}

// lay has the copy lie ready, read back and synced.
func lay(f home.FS, from, aside string) error {
	path := filepath.Join(aside, ready)
	if err := f.Copy(from, path); err != nil {
		return err
	}
	if _, err := sound(path); err != nil {
		return err
	}
	return errors.Join(f.SyncDir(aside), f.SyncDir(filepath.Dir(aside)))
}

// swap sets the old register aside, with its log, and puts the copy in its place.
func swap(f home.FS, dir, aside string) error {
	for _, name := range []string{store.RegisterFile, store.ViewsFile} {
		for _, tail := range []string{"", "-wal", "-shm"} {
			err := f.Rename(filepath.Join(dir, name+tail), filepath.Join(aside, name+tail))
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
		}
	}
	if err := f.Rename(filepath.Join(aside, ready), filepath.Join(dir, store.RegisterFile)); err != nil {
		return err
	}
	return errors.Join(f.SyncDir(aside), f.SyncDir(dir))
}

// goOn ends a going back that was cut short, before anything opens the folder: an empty register in the old one's place would take the log of the old one for its own.
func goOn(f home.FS, dir string) error {
	if there, err := lies(f, filepath.Join(dir, store.RegisterFile)); there || err != nil {
		return err
	}
	list, err := f.ReadDir(dir)
	if err != nil {
		return err
	}
	begun := ""
	for _, e := range list {
		aside := filepath.Join(dir, e.Name())
		if !e.IsDir() || !strings.HasPrefix(e.Name(), "aside-") {
			continue
		}
		if there, err := lies(f, filepath.Join(aside, ready)); err != nil {
			return err
		} else if !there {
			continue
		}
		old, err := lies(f, filepath.Join(aside, store.RegisterFile))
		if err != nil {
			return err
		}
		if old { // this one, whatever the clock said: what moved first lies here
			begun = aside
			break
		}
		if _, err := sound(filepath.Join(aside, ready)); err == nil { // there was no register before; a torn one is of a going back that never began
			begun = aside
		}
	}
	if begun == "" {
		return nil
	}
	if _, err := sound(filepath.Join(begun, ready)); err != nil {
		return err
	}
	return swap(f, dir, begun)
}

func lies(f home.FS, path string) (bool, error) {
	_, err := f.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, err
}
