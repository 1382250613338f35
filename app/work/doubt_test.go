package work_test

import (
	"testing"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// A gauge found to read higher than its loads' plans counted on stops the loads made since its last comparison; one within its class stops none. Each is cleared by name, or not.
func TestAHighGaugeStopsTheLoadsOfItsWindow(t *testing.T) {
	b := desk(t)
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good())) // the last good one
	before, _ := b.sterile(1)
	packs, cycle := b.sterile(2)
	f := b.good()
	f.Points = []work.ComparePoint{{Shown: 132, True: 127}, {Shown: 50, True: 48}}
	n, err := b.d.CheckCompare(b.pot(), b.place().Site, f)
	if err != nil || n != 2 {
		t.Fatalf("%d loads in doubt, %v", n, err)
	}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	if b.state(packs[0]) != work.ShelfHeld || b.state(before[0]) != work.ShelfHeld {
		t.Errorf("%s and %s: their plans counted on a smaller error", b.state(packs[0]), b.state(before[0]))
	}
	if code(b.d.ClearHold(cref(cycle), register.HoldGauge, "worked through with the officer")) != "nothing-to-clear" {
		t.Error("a load in doubt is cleared without being judged again")
	}
	if _, err := b.d.SettleDoubt(b.pot().ID, ""); code(err) != "reason-missing" {
		t.Error(err)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "worked through with the officer")
	b.check(err)
	if came.Stood != 2 || came.Called != 0 || b.state(packs[0]) != work.ShelfReady || b.state(before[0]) != work.ShelfReady {
		t.Errorf("%+v: both were well above the line that the gauge needs; %s %s", came, b.state(packs[0]), b.state(before[0]))
	}
	later, _ := b.sterile(1)
	b.check(b.d.Compare(b.pot(), b.place().Site, f)) // again, and nothing has changed since
	if b.state(later[0]) != work.ShelfReady || b.state(packs[0]) != work.ShelfReady {
		t.Errorf("%s %s: the same comparison again stops nothing", b.state(later[0]), b.state(packs[0]))
	}
}

// An altitude settled higher stops the loads whose plan asked for less; one settled lower stops none.
func TestAHigherAltitudeStopsWhatWasMadeForLess(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	settle := func(m int64) {
		t.Helper()
		_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: m})
		b.check(err)
		all, err := b.d.Heights()
		b.check(err)
		for _, h := range all {
			if h.HeightM == m && !h.Present {
				b.check(b.d.SettleHeight(h))
				return
			}
		}
		t.Fatal("it is not among the ways")
	}
	settle(1700)
	if b.state(packs[0]) != work.ShelfReady {
		t.Fatalf("%s: it was made for more than is needed", b.state(packs[0]))
	}
	settle(2160)
	if b.state(packs[0]) != work.ShelfHeld {
		t.Errorf("%s: it was made for less than is needed", b.state(packs[0]))
	}
	all, err := b.d.Heights()
	b.check(err)
	seen := map[int64]int{}
	for _, h := range all {
		seen[h.HeightM]++
	}
	if _, ok := lineOf(t, b, "heights"); ok {
		t.Error("settled, and Today still asks")
	}
	if seen[2160] != 1 || seen[1860] != 1 || seen[1700] != 1 {
		t.Errorf("every way stands once: %v", seen)
	}
}

// A comparison by which the dial reads high never lets the pot go above its plate's limit on the dial.
func TestAComparisonRaisesNoLimit(t *testing.T) {
	b := desk(t)
	before := b.plan().Frozen.LimitMilli
	f := b.good()
	f.Points = []work.ComparePoint{{Shown: 142, True: 127}, {Shown: 54, True: 48}}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	if got := b.plan().Frozen.LimitMilli; got > before {
		t.Errorf("never above %d, and after a comparison above %d", before, got)
	}
}
