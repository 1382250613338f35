package store

import (
	"errors"
	"testing"
)

// hurt changes the place of the newest entry in the file, behind the back of the program.
func hurt(t *testing.T, w *district, to string) string {
	t.Helper()
	w.cycle(1)
	w.cycle(2)
	if r, err := w.s.Check(nil); err != nil || !r.OK() {
		t.Fatal(r, err)
	}
	for _, q := range []string{"DROP TRIGGER entry_stays", "UPDATE entry SET pos = " + to + " WHERE pos = (SELECT max(pos) FROM entry)"} {
		if _, err := w.s.reg.Exec(q); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.s.Close(); err != nil {
		t.Fatal(err)
	}
	return w.s.dir
}

// An entry whose place is below zero is in the file and is read by nobody: start, full check and tables made anew say so, or read it.
func TestAttackAnEntryWhosePlaceIsBelowZero(t *testing.T) {
	w := found(t, t.TempDir())
	dir := hurt(t, w, "-5")
	s, err := Open(dir, Options{})
	if err != nil {
		var d *Damage
		if errors.As(err, &d) {
			return
		}
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.StartCheck(); err != nil {
		return
	}
	if err := s.RebuildViews(); err != nil {
		return
	}
	var rows int64
	if err := s.reg.QueryRow("SELECT count(*) FROM entry").Scan(&rows); err != nil {
		t.Fatal(err)
	}
	if err := s.QuickCheck(); err != nil {
		return
	}
	for i := range 2 {
		r, err := s.Check(nil)
		if err != nil || !r.OK() {
			t.Logf("check %d: %v %v", i+1, r.Faults, err)
			return
		}
		if r.Entries != rows {
			t.Errorf("check %d finds nothing wrong: the file has %d entries, it read %d of them", i+1, rows, r.Entries)
		}
	}
}

// The place of the newest entry jumps, as by one bit of the file: the program says that the register is damaged, and does not fall.
func TestAttackAPlaceThatJumps(t *testing.T) {
	w := found(t, t.TempDir())
	dir := hurt(t, w, "pos + 16384")
	defer func() {
		if x := recover(); x != nil {
			t.Errorf("opening falls: %v", x)
		}
	}()
	s, err := Open(dir, Options{})
	if err != nil {
		t.Log(err)
		return
	}
	s.Close()
}
