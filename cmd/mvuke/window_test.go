//go:build realwindow

package main

import (
	"os"
	"strings"
	"testing"
	"time"

	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// TestWindowCarriesACycle does in the real window what a clerk does: sets the clinic up, runs a cycle,
// loses the power in the middle, starts again, finishes and releases. Time runs sixty
// times as fast. A picture is kept at each step.
func TestWindowCarriesACycle(t *testing.T) {
	w := newWindow(t, "1024x600")
	w.start()
	w.setUp()
	w.picture("setup-done")
	w.click("OK", 0)
	w.click("Today", 0)
	w.click("Start a cycle", 0)
	w.fill("Numbers on the packs", "ND-A0001 ND-A0002 ND-A0003")
	w.fill("Water in, litres", "2.6")
	w.fill("Needle at rest, cold", "0")
	w.click("tape and strip", 0)
	w.click("Yes", 0)
	w.picture("load")
	w.click("Begin this cycle", 0)
	w.click("Lid is shut", 0)
	w.picture("lid")
	w.click("Fire is lit", 0)
	time.Sleep(8 * time.Second) // eight minutes until steam
	w.click("Steady steam now", 0)
	w.picture("vent")
	time.Sleep(10500 * time.Millisecond) // ten minutes and a half of the stretched clock
	w.click("Air valve is closed", 0)
	w.needle("95")
	w.click("Write this look down", 0)
	w.needle("140")
	w.click("Write this look down", 0) // the first that is not below the line
	w.hold(4)
	w.picture("hold")

	w.kill()
	w.proven()
	w.start()
	w.picture("after-the-cut")
	w.hold(2)
	for !w.has("Fire is drawn") {
		w.hold(1)
	}
	w.picture("hold-done")
	w.click("Fire is drawn", 0)
	for _, b := range []string{"Valve is open", "Zero and no steam", "Lid is open", "Drying is over", "They are cool", "Finish and go to release"} {
		w.click(b, 0)
	}
	w.release()
	w.stop()
	w.verify()
}

func (w *window) setUp() {
	w.picture("setup-language")
	w.click("Next", 0)
	w.fill("What is the clinic called?", "Ndovari")
	w.click("Next", 0)
	w.fill("How high is the clinic?", "1860")
	w.click("Next", 0) // a bare number is refused with both readings of it
	w.picture("setup-height-refused")
	w.fill("How high is the clinic?", "1860 m")
	w.picture("setup-height")
	w.click("Next", 0)
	w.fill("Name or number of the pot", "1")
	w.fill("Least water, litres", "2.5")
	w.fill("Highest pressure it may have, from its plate", "180")
	w.fill("Safety valve opens at, from its plate", "175")
	w.picture("setup-pot")
	w.click("Next", 0)
	w.fill("Last figure on the dial", "250")
	w.fill("From one line to the next", "10")
	w.fill("Number on the gauge", "2207")
	w.click("2.5", 0)
	w.picture("setup-gauge")
	w.click("Next", 0)
	w.fill("Name", "Asha")
	w.click("Next", 0)
}

// hold looks at the needle n times, as often as the program asks.
func (w *window) hold(n int) {
	for range n {
		if w.has("Fire is drawn") {
			return
		}
		w.needle("142")
		w.click("stayed at or\nabove 125", 0)
	}
}

func (w *window) needle(figure string) {
	w.click("Needle now", prefix)
	for _, d := range figure {
		w.click(string(d), 0)
	}
	w.click("OK", 0)
}

// proven lets the new pot off its good cycles, while the window is closed: a real hour is not waited for three times.
func (w *window) proven() {
	d := w.desk()
	defer d.Close()
	people, err := d.People()
	if err != nil || len(people) == 0 {
		w.t.Fatal(people, err)
	}
	d.Act(people[0].ID)
	if err := d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "test: proven before the register began"}); err != nil {
		w.t.Fatal(err)
	}
}

// desk opens the register of a closed window.
func (w *window) desk() *work.Desk {
	w.t.Helper()
	w.t.Setenv("MVUKE_STATE", w.state)
	d, err := work.Open(w.data, work.Options{Clock: fastClock{base: time.Unix(w.from, 0), real: home.SystemClock{}}})
	if err != nil {
		w.t.Fatal(err)
	}
	return d
}

func (w *window) release() {
	w.click("reached its\nend point", 0)
	w.picture("release-packs")
	w.click("All packs are cool to the hand", 0)
	for i := range 3 {
		w.click("good", i)
	}
	w.click("Packs are looked at", 0)
	w.picture("release-open")
	w.click("Release 3 packs", 0)
	w.click("OK", 0)
	w.picture("released")
}

// verify opens the register itself: the packs may be used, and everything is whole.
func (w *window) verify() {
	d := w.desk()
	defer d.Close()
	ids, err := d.LatestCycles(5)
	if err != nil || len(ids) != 1 {
		w.t.Fatalf("%d cycles, %v", len(ids), err)
	}
	c, err := d.Cycle(ids[0])
	if err != nil || len(c.Begun.Packs) != 3 {
		w.t.Fatal(c.Begun.Packs, err)
	}
	for _, p := range c.Begun.Packs {
		if a, err := d.Usable(p.ID); err != nil || a.Word != register.Usable {
			w.t.Errorf("%s is %s %v", p.Label, a.Word, err)
		}
	}
	if r, err := d.Judge(c); err != nil || r.Verdict != model.Shown {
		w.t.Errorf("%s %v", r.Verdict, r.Reasons)
	}
	if r, err := d.Store.Check(nil); err != nil || !r.OK() {
		w.t.Errorf("%+v %v", r, err)
	}
}

// TestWindowSecondCopyIsCalm starts the program twice on one register.
func TestWindowSecondCopyIsCalm(t *testing.T) {
	w := newWindow(t, "1024x600")
	w.start()
	other := *w
	other.start()
	other.picture("second-copy")
	if log, _ := os.ReadFile(other.trace + ".log"); !strings.Contains(string(log), "already open") {
		t.Errorf("the second copy says: %s", log)
	}
	if n := colours(t, w.shots+"/second-copy.png"); n < 5 {
		t.Errorf("the second copy shows %d colours", n)
	}
	other.kill()
	w.kill()
}

// TestWindowShots shows every screen of the demo in both sizes; a picture that is one colour is no picture.
func TestWindowShots(t *testing.T) {
	for _, size := range []string{"1024x600", "1366x768"} {
		w := newWindow(t, size)
		dir := w.shots + "/" + size
		w.run("--shots", dir, "--size", size)
		for _, name := range []string{"today", "pot", "release", "failed", "not-known", "cycles", "people", "setup", "slip", "care", "altitude", "incidents", "references", "shelf", "lists", "set", "stock", "policies"} {
			if n := colours(t, dir+"/"+name+".png"); n < 20 {
				t.Errorf("%s at %s has %d colours", name, size, n)
			}
		}
	}
}
