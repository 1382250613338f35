package main

import (
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/store"
)

// clock is the system's, but in the program of the tests.
var clock model.Clock

// openDesk opens the register of --data; it must be there.
func openDesk(dir string) (*work.Desk, error) {
	if dir == "" {
		return nil, wrong("data")
	}
	if _, err := os.Stat(filepath.Join(dir, store.RegisterFile)); err != nil {
		return nil, wrong("no-register", dir)
	}
	return work.Open(dir, work.Options{Clock: clock})
}

// onRegister parses a command's flags and opens the register of its --data. Where d is nil it has said why, and code is how the command ends.
func (t *tool) onRegister(f *flags, args []string, dir *string) (d *work.Desk, code int) {
	if err := f.parse(args); err != nil {
		return nil, t.code(err)
	}
	d, err := openDesk(*dir)
	if err != nil {
		return nil, t.bad(err)
	}
	return d, 0
}

// acting opens the register of --data for a person, named as it stands on the tiles.
func (t *tool) acting(dir, person string) (*work.Desk, error) {
	d, err := openDesk(dir)
	if err != nil {
		return nil, err
	}
	if err := t.actAs(d, person); err != nil {
		return nil, errors.Join(err, d.Close())
	}
	return d, nil
}

type checkOut struct {
	OK      bool     `json:"ok"`
	Entries int64    `json:"entries"`
	Streams int      `json:"streams"`
	Digest  string   `json:"digest"`
	Faults  []string `json:"faults"`
}

func (t *tool) check(args []string) int {
	f := t.flags("check")
	dir := f.String("data", "", "data folder")
	d, code := t.onRegister(f, args, dir)
	if d == nil {
		return code
	}
	defer d.Close()
	r, err := d.Store.Check(func(done, all int64) { f.say("%d of %d", done, all) })
	if err != nil {
		return t.failed(err)
	}
	if c := t.print(checkOut{r.OK(), r.Entries, r.Streams, hex.EncodeToString(r.Digest[:]), append([]string{}, r.Faults...)}); c != 0 {
		return c
	}
	if !r.OK() {
		return 1
	}
	return 0
}

func (t *tool) backup(args []string) int {
	f := t.flags("backup")
	dir := f.String("data", "", "data folder")
	to := f.String("out", "", "file to write; left out: the data folder's own backup folder")
	d, code := t.onRegister(f, args, dir)
	if d == nil {
		return code
	}
	defer d.Close()
	path, r, err := *to, store.Report{}, error(nil)
	if path == "" {
		path, r, err = d.Backup()
	} else {
		r, err = d.Store.Backup(path)
	}
	if err != nil {
		return t.failed(err)
	}
	f.say("copied and checked: %s", path)
	return t.print(map[string]any{"file": path, "entries": r.Entries, "ok": r.OK()})
}

func (t *tool) restore(args []string) int {
	f := t.flags("restore")
	dir := f.String("data", "", "data folder")
	from := f.String("from", "", "verified copy")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *from == "" || *dir == "" {
		return t.bad(wrong("restore-how"))
	}
	if _, err := os.Stat(*from); err != nil {
		return t.bad(wrong("copy-unopened", err.Error()))
	}
	if err := os.MkdirAll(*dir, 0o700); err != nil {
		return t.failed(err)
	}
	lock, err := home.TakeLock(*dir)
	if err != nil {
		return t.failed(err)
	}
	defer lock.Release()
	aside, r, err := work.Restore(*from, *dir, time.Now())
	if err != nil {
		return t.failed(err)
	}
	if aside != "" {
		f.say("what was there is set aside in %s", aside)
	}
	return t.print(map[string]any{"entries": r.Entries, "aside": aside})
}

func (t *tool) demo(args []string) int {
	f := t.flags("demo")
	dir := f.String("data", "", "empty folder for the register")
	out := f.String("out", "", "folder for the sheets of the demo's cycles")
	district := f.Bool("district", false, "an invented district instead: an office, eight clinics, and the sticks between them")
	weeks := f.Int("weeks", 104, "with --district: length of its past")
	seed := f.Uint64("seed", 1, "with --district: another seed is another story")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *dir == "" && *out == "" {
		return t.bad(wrong("demo-how"))
	}
	if *district {
		if *dir == "" || *weeks < 16 || *weeks > 520 {
			return t.bad(wrong("demo-weeks"))
		}
		err := demo.District(*dir, *seed, *weeks, time.Now(), func(done, all int) {
			if done%13 == 0 || done == all {
				f.say("%s", t.words.Say("demo.weeks", strconv.Itoa(done), strconv.Itoa(all)))
			}
		})
		if err != nil {
			return t.failed(err)
		}
		return t.print(map[string]any{"data": *dir, "office": filepath.Join(*dir, "office")})
	}
	if *dir == "" {
		tmp, err := os.MkdirTemp("", "mvuke-demo-")
		if err != nil {
			return t.failed(err)
		}
		defer os.RemoveAll(tmp)
		*dir = tmp
	}
	if err := demo.Fresh(*dir, time.Now()); err != nil {
		return t.bad(err)
	}
	made := []string{}
	if *out != "" {
		d, err := openDesk(*dir)
		if err != nil {
			return t.failed(err)
		}
		defer d.Close()
		if made, err = t.demoSheets(d, *out); err != nil {
			return t.failed(err)
		}
	}
	for _, m := range made {
		f.say("%s", t.words.Say("file.made", m))
	}
	return t.print(map[string]any{"data": *dir, "files": made})
}

func (t *tool) seed(args []string) int {
	f := t.flags("seed")
	dir := f.String("data", "", "data folder; an empty one is set up as the invented clinic")
	n := f.Int("entries", 200000, "how many entries")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *dir == "" {
		return t.bad(wrong("data"))
	}
	d, err := work.Open(*dir, work.Options{})
	if err != nil {
		return t.failed(err)
	}
	defer d.Close()
	if d.NeedsSetup() {
		if err := d.SetUp(demo.Answers(f.lang)); err != nil {
			return t.failed(err)
		}
	}
	if err := d.Seed(*n, func(done int) { f.say("%d of %d", done, *n) }); err != nil {
		return t.failed(err)
	}
	count, err := d.Store.Count()
	if err != nil {
		return t.failed(err)
	}
	return t.print(map[string]any{"entries": count})
}
