//go:build unix

package work_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
)

// The needle stands on 100 kPa and rises by a hundredth of one with each look, so that every
// reading can be told from every other and all of them are on the dial.
func needleOf(n int) int64 { return 100_000 + int64(n)*10 }

// lookOn is the child of TestKilledAtAnyMoment: it goes on with the cycle under way, types and
// looks without a pause, and says so after each act returned.
func lookOn(d *work.Desk) error {
	c, err := d.UnderWay()
	if err != nil {
		return err
	}
	if c == nil {
		if err := beginOne(d); err != nil {
			return err
		}
		if c, err = d.UnderWay(); err != nil {
			return err
		}
	}
	for n := len(c.Readings); ; n++ {
		if err := d.Store.SaveDraft("look", "needle", strconv.Itoa(n)); err != nil {
			return err
		}
		fmt.Println("draft", n)
		if err := d.Look(c.State.Ref.ID, needleOf(n), model.Stayed, 0); err != nil {
			return err
		}
		fmt.Println("ack", n)
	}
}

func beginOne(d *work.Desk) error {
	p, err := d.Place()
	if err != nil {
		return err
	}
	_, _, err = d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(4, 1), WaterML: 2600})
	return err
}

// A program killed at any moment has lost nothing that it had said was kept, and the next
// start goes on where it was: same cycle, same stream, no lock in the way.
func TestKilledAtAnyMoment(t *testing.T) {
	kills := 50
	if testing.Short() {
		kills = 10
	}
	seed := uint64(time.Now().UnixNano())
	t.Log("seed", seed)
	dice := rand.New(rand.NewPCG(seed, 0))
	dir := killRoom(t)
	last := map[string]int{"ack": -1, "draft": -1}
	var cycle model.ID
	var stream string
	for k := range kills {
		kid := start(t, "look", dir)
		for line := range kid.lines {
			kid.note(line, last)
			if kid.said["ack"] == 1 { // the first
				kid.killIn(time.Duration(20+dice.IntN(381)) * time.Millisecond)
			}
		}
		kid.gone(t, "ack")
		d := reopen(t, dir)
		c, err := d.UnderWay()
		if err != nil || c == nil {
			t.Fatalf("kill %d: no cycle is under way (%v)", k, err)
		}
		if k == 0 {
			cycle, stream = c.State.Ref.ID, d.StreamName()
		}
		if c.State.Ref.ID != cycle || d.StreamName() != stream || d.Memory != home.MemoryGood {
			t.Errorf("kill %d: cycle %v was %v, stream %s was %s, witness %s", k, c.State.Ref.ID, cycle, d.StreamName(), stream, d.Memory)
		}
		checkReadings(t, c.Readings, last["ack"])
		checkDraft(t, d, last["draft"])
		if t.Failed() {
			t.Fatalf("at kill %d", k)
		}
		if k == kills-1 {
			if r, err := d.Store.Check(nil); err != nil || !r.OK() {
				t.Errorf("%+v %v", r, err)
			}
		}
		if err := d.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d kills, %d looks and %d keystrokes acknowledged, none lost", kills, last["ack"]+1, last["draft"]+1)
}

// checkReadings wants every reading up to the last acknowledged, once; one more may have been
// kept and not yet said.
func checkReadings(t *testing.T, got []model.Reading, acked int) {
	t.Helper()
	times := map[int64]int{}
	for _, r := range got {
		times[r.NeedleMilli]++
	}
	for n := range acked + 1 {
		if times[needleOf(n)] != 1 {
			t.Errorf("reading %d of %d acknowledged is there %d times", n, acked+1, times[needleOf(n)])
		}
	}
	if len(got) < acked+1 || len(got) > acked+2 {
		t.Errorf("%d readings, %d acknowledged", len(got), acked+1)
	}
}

func checkDraft(t *testing.T, d *work.Desk, acked int) {
	t.Helper()
	f, err := d.Store.Draft("look")
	if err != nil {
		t.Fatal(err)
	}
	if n, err := strconv.Atoi(f["needle"]); err != nil || n < acked || n > acked+1 {
		t.Errorf("the draft is %q, %d was acknowledged", f["needle"], acked)
	}
}

// typeOn is the child of TestKilledWhileTyping: it types one long number.
func typeOn(d *work.Desk) error {
	f, err := d.Store.Draft("form")
	if err != nil {
		return err
	}
	for s := f["number"]; ; {
		s += digit(len(s))
		if err := d.Store.SaveDraft("form", "number", s); err != nil {
			return err
		}
		fmt.Println("key", len(s))
	}
}

func digit(at int) string { return strconv.Itoa((at*7 + at/10) % 10) }

// Killed right after a keystroke that is on the screen, that keystroke is there at the next
// start; at most the one in flight is missing.
func TestKilledWhileTyping(t *testing.T) {
	kills := 40
	switch {
	case os.Getenv("MVUKE_LONG") != "":
		kills = 200
	case testing.Short():
		kills = 8
	}
	dir := killRoom(t)
	last := map[string]int{"key": 0}
	for k := range kills {
		kid := start(t, "type", dir)
		for line := range kid.lines {
			kid.note(line, last)
			kid.killIn(0)
		}
		kid.gone(t, "key")
		d := reopen(t, dir)
		f, err := d.Store.Draft("form")
		if err != nil {
			t.Fatal(err)
		}
		got := f["number"]
		for i := range len(got) {
			if got[i:i+1] != digit(i) {
				t.Fatalf("kill %d: digit %d of %s is wrong", k, i, got)
			}
		}
		if len(got) < last["key"] || len(got) > last["key"]+1 {
			t.Fatalf("kill %d: %d digits are there, %d were acknowledged", k, len(got), last["key"])
		}
		if err := d.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d kills, %d keystrokes acknowledged, none lost", kills, last["key"])
}
