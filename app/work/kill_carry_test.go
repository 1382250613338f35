//go:build unix

package work_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/sync/exchange"
)

// bringOn is the child of TestKilledWhileBringingIn; outOn that of TestKilledWhileTakingOut.
func bringOn(d *work.Desk) error {
	fmt.Println("ack", 0)
	for {
		if _, err := d.BringIn(filepath.Join(d.Dir, "..", "stick")); err != nil {
			return err
		}
	}
}

func outOn(d *work.Desk) error {
	fmt.Println("ack", 0)
	p, err := d.Place()
	for err == nil {
		_, err = d.TakeOut(p.ID, filepath.Join(d.Dir, "..", "stick"), true, nil)
	}
	return err
}

// carryRoom is a small clinic, a copy of it that has grown, and a stick with everything of the grown one.
func carryRoom(t *testing.T, packs int) (small, grown, stick string) {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	dir, now := t.TempDir(), time.Now()
	small, grown, stick = filepath.Join(dir, "small"), filepath.Join(dir, "grown"), filepath.Join(dir, "stick")
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.Mkdir(stick, 0o700))
	must(os.Mkdir(small, 0o700))
	lightBallast(t, small)
	must(demo.Small(small, now.Add(-24*time.Hour)))
	must(os.CopyFS(grown, os.DirFS(small)))
	must(demo.Grow(grown, packs, now))
	return small, grown, stick
}

func kills(t *testing.T) int {
	if testing.Short() {
		return 5
	}
	return 50
}

// A program killed at any moment of bringing in has a whole register; what was applied stands, nothing of it twice, and the next try takes the rest.
func TestKilledWhileBringingIn(t *testing.T) {
	small, grown, stick := carryRoom(t, 600) // more than one batch
	g, err := work.Open(grown, work.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := g.Place()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := g.TakeOut(p.ID, stick, true, nil); err != nil {
		t.Fatal(err)
	}
	n, err := g.Store.Count()
	if err != nil {
		t.Fatal(err)
	}
	want, err := g.Store.Heads()
	if err != nil {
		t.Fatal(err)
	}
	g.Close()
	seed := uint64(time.Now().UnixNano())
	t.Log("seed", seed)
	dice := rand.New(rand.NewPCG(seed, 0))
	part := map[string]int{}
	for k := range kills(t) {
		dir := filepath.Join(filepath.Dir(small), fmt.Sprint("try", k))
		if err := os.CopyFS(dir, os.DirFS(small)); err != nil {
			t.Fatal(err)
		}
		kid := start(t, "bring", dir)
		for line := range kid.lines {
			kid.note(line, map[string]int{"ack": -1})
			kid.killIn(time.Duration(dice.IntN(350)) * time.Millisecond)
		}
		kid.gone(t, "ack")
		d := reopen(t, dir)
		before, _ := d.Store.Count()
		switch {
		case before < 20:
			part["nothing"]++
		case before < n:
			part["some"]++
		default:
			part["all"]++
		}
		in, err := d.BringIn(stick)
		if err != nil || len(in.Files) != 1 || (in.Files[0].Verdict != exchange.New && in.Files[0].Verdict != exchange.Have) {
			t.Fatalf("kill %d: %+v %v", k, in, err)
		}
		for _, h := range want {
			if ok, err := d.Store.Has(h.ID); err != nil || !ok {
				t.Fatalf("kill %d: a stream's end is missing, %v", k, err)
			}
		}
		if r, err := d.Store.Check(nil); err != nil || !r.OK() {
			t.Fatalf("kill %d: %+v %v", k, r, err)
		}
		d.Close()
		os.RemoveAll(dir)
	}
	t.Logf("found after the kill: %v", part)
}

// Killed at any moment of taking out, the register is as it was, and every file with a final name on the stick is whole.
func TestKilledWhileTakingOut(t *testing.T) {
	_, grown, stick := carryRoom(t, 120)
	g := reopen(t, grown)
	p, err := g.Place()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := g.TakeOut(p.ID, t.TempDir(), true, nil); err != nil { // the first time a device tells its box: that act is its own, however soon the first kill comes
		t.Fatal(err)
	}
	before, err := g.Store.Count()
	if err != nil {
		t.Fatal(err)
	}
	g.Close()
	seed := uint64(time.Now().UnixNano())
	t.Log("seed", seed)
	dice := rand.New(rand.NewPCG(seed, 0))
	for k := range kills(t) {
		kid := start(t, "out", grown)
		for line := range kid.lines {
			kid.note(line, map[string]int{"ack": -1})
			kid.killIn(time.Duration(dice.IntN(200)) * time.Millisecond)
		}
		kid.gone(t, "ack")
		d := reopen(t, grown)
		n, err := d.Store.Count()
		if err != nil || n != before {
			t.Fatalf("kill %d: %d entries, before %d, %v", k, n, before, err)
		}
		in, err := d.BringIn(stick)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range in.Files {
			if filepath.Ext(f.File) == ".MVB" && f.Verdict != exchange.Have {
				t.Fatalf("kill %d: %s is %s", k, f.File, f.Verdict)
			}
		}
		if n, err = d.Store.Count(); err != nil || n != before {
			t.Fatalf("kill %d: %d entries after the stick was read again, before %d, %v", k, n, before, err)
		}
		d.Close()
		if k%10 == 9 {
			for _, f := range in.Files {
				os.Remove(f.File)
			}
		}
	}
}
