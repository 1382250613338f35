//go:build linux

package store

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// note signs and appends one note of about a kilobyte; the author moves on only if it was kept.
func note(s *Store, a *entry.Author, n int) error {
	noise := make([]byte, 500)
	rand.Read(noise)
	refs := []model.Ref{{Noun: model.NounPack, ID: model.ID{byte(n), byte(n >> 8), byte(a.Stream[0])}}}
	v, err := a.Sign(entry.Draft{Kind: model.KindNote, Targets: refs, Payload: map[int]string{1: hex.EncodeToString(noise)}}, model.Moment{}, model.ClockGood)
	if err != nil {
		return err
	}
	if err := s.Append(v); err != nil {
		return err
	}
	a.Advance(v)
	return nil
}

// fill appends until the disk is full and says how many notes were kept.
func fill(t *testing.T, s *Store, a *entry.Author) int {
	t.Helper()
	for n := range 100_000 {
		if err := note(s, a, n); err != nil {
			if !Full(err) {
				t.Errorf("after %d notes another error than a full disk: %v", n, err)
			}
			return n
		}
	}
	t.Fatal("the disk never filled")
	return 0
}

// wholeUpTo asks the register, which a full disk must not touch, for its structure, every
// signature and every chain, and for the end of a stream where its author knows it to be.
func wholeUpTo(t *testing.T, s *Store, a *entry.Author) {
	t.Helper()
	seq, head, _, err := s.Resume(a.Stream)
	if err != nil || seq != a.Seq || head != a.Head {
		t.Errorf("the stream ends at %d, %d was acknowledged (%v)", seq, a.Seq, err)
	}
	var r Report
	if err := errors.Join(s.quickCheck(), s.chains(&r, nil)); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}

// wholeWithTables asks for everything; there must be room to make the read tables anew.
func wholeWithTables(t *testing.T, s *Store, a *entry.Author) {
	t.Helper()
	wholeUpTo(t, s, a)
	if r, err := s.Check(nil); err != nil || !r.OK() {
		t.Errorf("%+v %v", r, err)
	}
}

// A full disk refuses an act and takes back none that it had acknowledged; the next act is kept
// as soon as there is room, without a restart.
func TestFullDiskLosesNothing(t *testing.T) {
	dir := smallDisk(t, 6<<20)
	spare := spareRoom(t, dir)
	w := found(t, dir)
	n := fill(t, w.s, w.dev)
	for range 3 {
		if err := note(w.s, w.dev, n); !Full(err) {
			t.Errorf("on a disk that is still full: %v", err)
		}
	}
	wholeUpTo(t, w.s, w.dev)
	if err := os.Remove(spare); err != nil {
		t.Fatal(err)
	}
	for range 20 {
		if err := note(w.s, w.dev, n); err != nil {
			t.Fatal("there is room again:", err)
		}
	}
	wholeWithTables(t, w.s, w.dev)
	m := fill(t, w.s, w.dev)
	t.Logf("%d notes, then %d in the room given", n, 20+m)
	if err := w.s.Close(); err != nil {
		t.Fatal(err)
	}
	full, err := Open(dir, Options{})
	if err != nil {
		t.Fatal("on a full disk: ", err)
	}
	wholeUpTo(t, full, w.dev)
	full.Close()
	grow(t, dir, 24<<20)
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	wholeWithTables(t, s, w.dev)
}

// The ballast is given up by itself, and no act is refused before it is gone.
func TestBallastIsGivenUpFirst(t *testing.T) {
	dir := smallDisk(t, 6<<20)
	spare := spareRoom(t, dir)
	w := found(t, dir)
	gaveAt := uint64(0)
	w.s.ballast = func() bool {
		if os.Remove(spare) != nil {
			return false
		}
		gaveAt = w.dev.Seq
		return true
	}
	n := fill(t, w.s, w.dev)
	if gaveAt == 0 || gaveAt+20 > w.dev.Seq {
		t.Errorf("of %d notes the ballast made room for those after %d", n, gaveAt)
	}
	t.Logf("%d notes, those after %d in the ballast's room", n, gaveAt)
	grow(t, dir, 24<<20)
	wholeWithTables(t, w.s, w.dev)
}

// A register on a full disk opens by its ballast: one that was closed while there was room and
// finds none for its log, and one whose read tables have to be made anew.
func TestBallastOpensAFullDisk(t *testing.T) {
	for _, tablesGone := range []bool{false, true} {
		t.Run(fmt.Sprintf("tables gone %v", tablesGone), func(t *testing.T) {
			dir := smallDisk(t, 6<<20)
			spare := spareRoom(t, dir)
			w := found(t, dir)
			if tablesGone {
				fill(t, w.s, w.dev)
			}
			if err := w.s.Close(); err != nil {
				t.Fatal(err)
			}
			if tablesGone {
				for _, tail := range []string{"", "-wal", "-shm"} {
					os.Remove(filepath.Join(dir, ViewsFile+tail))
				}
			}
			if err := os.WriteFile(filepath.Join(dir, "glut"), make([]byte, 6<<20), 0o600); err == nil {
				t.Fatal("the disk took more than there is room for")
			}
			if s, err := Open(dir, Options{}); err == nil {
				s.Close()
				t.Fatal("the disk is not full enough to show anything")
			} else if !Full(err) {
				t.Fatal(err)
			}
			s, err := Open(dir, Options{Ballast: func() bool { return os.Remove(spare) == nil }})
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			wholeUpTo(t, s, w.dev)
			if err := note(s, w.dev, 1); err != nil {
				t.Error(err)
			}
		})
	}
}
