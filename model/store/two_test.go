package store

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

func plainNote(s *Store, a *entry.Author, n int) error {
	refs := []model.Ref{{Noun: model.NounPack, ID: model.ID{byte(n), a.Stream[0]}}, {Noun: model.NounPack, ID: model.ID{9}}}
	v, err := a.Sign(entry.Draft{Kind: model.KindNote, Targets: refs, Payload: map[int]int{1: n}}, model.Moment{}, model.ClockGood)
	if err != nil {
		return err
	}
	if err := s.Append(v); err != nil {
		return err
	}
	a.Advance(v)
	return nil
}

// Two handles on one folder, each with a stream of its own, wait for one another and lose
// nothing. The lock of the data folder keeps a second window out; a tool that reads and
// signs beside it must still do no harm.
func TestTwoHandlesLoseNothing(t *testing.T) {
	const each = 60
	dir := t.TempDir()
	w := found(t, dir)
	var wg sync.WaitGroup
	var handles []*Store
	var authors []*entry.Author
	errs := make([]error, 2)
	for i := range 2 {
		s, err := Open(dir, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		handles, authors = append(handles, s), append(authors, entry.NewAuthor(key(byte(10+i)), w.dev.District))
	}
	for i := range 2 {
		wg.Go(func() {
			for n := range each {
				if err := plainNote(handles[i], authors[i], n); err != nil {
					errs[i] = fmt.Errorf("handle %d, note %d: %w", i, n, err)
					return
				}
				if err := handles[i].SaveDraft("form", fmt.Sprint("field", i), fmt.Sprint(n)); err != nil {
					errs[i] = fmt.Errorf("handle %d, draft %d: %w", i, n, err)
					return
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
	for i, a := range authors {
		if seq, head, _, err := handles[1-i].Resume(a.Stream); err != nil || seq != each || head != a.Head {
			t.Errorf("the other handle sees stream %d end at %d, it has %d (%v)", i, seq, each, err)
		}
	}
	if f, err := w.s.Draft("form"); err != nil || f["field0"] != fmt.Sprint(each-1) || f["field1"] != f["field0"] {
		t.Errorf("%v %v", f, err)
	}
	if r, err := handles[0].Check(nil); err != nil || !r.OK() || r.Entries != 3+2*each {
		t.Errorf("%+v %v", r, err)
	}
}

// A disk that goes away and comes back costs the acts of that time and nothing else: they are
// refused, and the store goes on by itself.
func TestRegisterThatGoesAwayAndComesBack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "register")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	w := found(t, dir)
	if err := plainNote(w.s, w.dev, 1); err != nil {
		t.Fatal(err)
	}
	away := dir + ".away"
	if err := w.s.Close(); err != nil { // Windows moves no open file
		t.Fatal(err)
	}
	if err := os.Rename(dir, away); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := plainNote(w.s, w.dev, 2); err == nil {
			t.Error("kept where there is no disk")
		}
		if err := w.s.SaveDraft("form", "field", "1"); err == nil {
			t.Error("a draft was kept where there is no disk")
		}
		if _, err := w.s.Count(); err == nil {
			t.Error("counted where there is no disk")
		}
	}
	if err := os.Rename(away, dir); err != nil {
		t.Fatal(err)
	}
	if n, err := w.s.Count(); err != nil || n != 4 { // by reading, too
		t.Errorf("%d entries, %v", n, err)
	}
	if err := plainNote(w.s, w.dev, 2); err != nil {
		t.Fatal(err)
	}
	if r, err := w.s.Check(nil); err != nil || !r.OK() || r.Entries != 5 {
		t.Errorf("%+v %v", r, err)
	}
}
