package work_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model/register"
)

var errCut = errors.New("cut short")

// cutShort does so many operations on the disk and then none, as a process that is gone.
type cutShort struct {
	home.Disk
	left *int
}

func (c cutShort) gone() error {
	if *c.left--; *c.left < 0 {
		return errCut
	}
	return nil
}

func (c cutShort) WriteSynced(p string, b []byte, m fs.FileMode) error {
	return errors.Join(c.gone(), c.when(func() error { return c.Disk.WriteSynced(p, b, m) }))
}
func (c cutShort) Rename(a, b string) error {
	return errors.Join(c.gone(), c.when(func() error { return c.Disk.Rename(a, b) }))
}
func (c cutShort) SyncDir(p string) error {
	return errors.Join(c.gone(), c.when(func() error { return c.Disk.SyncDir(p) }))
}

func (c cutShort) when(do func() error) error {
	if *c.left < 0 {
		return nil
	}
	return do()
}

// lightBallast has the desk find its ballast made already, with no bytes to it: tests that open
// many folders would write little else.
func lightBallast(t *testing.T, dir string) {
	t.Helper()
	path := filepath.Join(dir, "ballast")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, home.BallastBytes); err != nil {
		t.Fatal(err)
	}
}

// Wherever the set-up of a clinic is cut short, the next start finishes it, and what the
// clinic then sterilizes can be released: the device has its grant.
func TestSetUpCutShortAnywhere(t *testing.T) {
	cuts := 0
	for n := 0; ; n++ {
		t.Setenv("MVUKE_STATE", t.TempDir())
		b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))}
		lightBallast(t, b.dir)
		left := n
		d, err := work.Open(b.dir, work.Options{Clock: b.clk, FS: cutShort{left: &left}})
		b.check(err)
		err = d.SetUp(demo.Answers("en"))
		b.check(d.Close())
		if err != nil && !errors.Is(err, errCut) {
			t.Fatalf("after %d operations: %v", n, err)
		}
		whole := err == nil && left >= 0
		b.open()
		if b.d.NeedsSetup() {
			cuts++
			if err := b.d.SetUp(demo.Answers("en")); err != nil {
				t.Fatalf("after %d operations, second set-up: %v", n, err)
			}
		}
		b.proven()
		id, g := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
		if !g.Open() {
			t.Errorf("after %d operations: %v", n, stops(g))
		} else if b.check(b.d.Release(id, "")); word(b, id) != register.Usable {
			t.Errorf("after %d operations: released, and %s", n, word(b, id))
		}
		b.check(b.d.Close())
		if whole {
			t.Logf("cut at %d places, %d left something to be done", n, cuts)
			return
		}
	}
}
