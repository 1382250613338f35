package store

import (
	"crypto/sha256"
	"os"
	"path/filepath"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// heldPack is a released pack that a rejection stops.
func heldPack(t *testing.T, w *district) model.Ref {
	load, refs := w.cycle(1)
	pack := refs[2]
	w.sign(w.dev, entry.Draft{Kind: model.KindRelease, Targets: []model.Ref{pack}, Relies: []entry.ID{load.ID(), w.grant, w.key},
		Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
	w.sign(w.dev, entry.Draft{Kind: model.KindReject, Targets: []model.Ref{pack}, Payload: model.Reject{Reason: "torn"}})
	return pack
}

func wordOf(t *testing.T, dir string, ref model.Ref) (word register.Word) {
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.Read(func(src Reader) { word = register.IsUsable(src, ref).Word }); err != nil {
		t.Fatal(err)
	}
	return word
}

// Rows that are gone from the read tables must not free a pack.
func TestRowsGoneFromTheViewsFreeNothing(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	pack := heldPack(t, w)
	if _, err := w.s.views.Exec("DELETE FROM target WHERE pos = (SELECT max(pos) FROM target)"); err != nil {
		t.Fatal(err)
	}
	w.s.Close()
	if got := wordOf(t, dir, pack); got != register.Held {
		t.Errorf("the pack is %s", got)
	}
}

// Read tables of another register beside this one must not decide.
func TestViewsOfASisterCopyAreThrownAway(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	pack := heldPack(t, w)
	w.s.Close()
	other := t.TempDir()
	o := found(t, other)
	for n := range byte(3) {
		o.cycle(n + 20)
	}
	o.s.Close()
	b, err := os.ReadFile(filepath.Join(other, ViewsFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, tail := range []string{"-wal", "-shm"} {
		os.Remove(filepath.Join(dir, ViewsFile+tail))
	}
	if err := os.WriteFile(filepath.Join(dir, ViewsFile), b, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := wordOf(t, dir, pack); got != register.Held {
		t.Errorf("the pack is %s", got)
	}
}

// An entry cut out of the middle of a stream is found at the start.
func TestAHoleInAStreamIsFoundAtStart(t *testing.T) {
	w := found(t, t.TempDir())
	heldPack(t, w)
	if _, err := w.s.reg.Exec("DROP TRIGGER entry_kept; DELETE FROM entry WHERE kind = ? AND stream = ?", int64(model.KindRelease), w.dev.Stream[:]); err != nil {
		t.Fatal(err)
	}
	if err := w.s.StartCheck(); err == nil {
		t.Error("nothing was found")
	}
}

// Read tables that were made by other rules of the fold are made anew when the program is newer.
func TestViewsByOtherRulesAreMadeAnew(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	w.cycle(1) // waits for its release
	open := func(s *Store) int {
		ids, err := s.OpenCyclesOf(model.ID{2})
		if err != nil {
			t.Fatal(err)
		}
		return len(ids)
	}
	if open(w.s) != 1 {
		t.Fatal("one load waits")
	}
	older := sha256.Sum256([]byte(viewsSQL)) // as tables were marked before the rules had a number
	if _, err := w.s.views.Exec("UPDATE mark SET value = ? WHERE name = 'schema'", older[:]); err != nil {
		t.Fatal(err)
	}
	if _, err := w.s.views.Exec("UPDATE cycle SET settled = 1"); err != nil { // what other rules may have made of it
		t.Fatal(err)
	}
	w.s.Close()
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if n := open(s); n != 1 {
		t.Errorf("%d loads wait by tables of other rules", n)
	}
}
