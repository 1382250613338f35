package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model/register"
)

// A comparison with a coarse reference put a load in doubt; looked back on it stood, and was freed. A second one, with a fine reference, finds the gauge 7 too high: "nothing worse", for the coarse one might have been off by more.
func TestAttack6NothingWorseWasFound(t *testing.T) {
	for _, first := range []bool{false, true} {
		b := atD(t)
		b.compare(right...)
		packs, cycle := b.heldAt(131_000)
		b.clk.Pass(24 * time.Hour)
		if first {
			ref := b.reference("R8", 8000)
			b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{Shown: 61, True: 60}, {Shown: 131, True: 130}}}))
			if w := b.word(packs[0]); w != register.Held {
				t.Fatal(w)
			}
			came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
			b.check(err)
			if w := b.word(packs[0]); w != register.Usable {
				t.Fatalf("%+v %s", came, w)
			}
			b.clk.Pass(24 * time.Hour)
		}
		b.compare(work.ComparePoint{Shown: 67, True: 60}, work.ComparePoint{Shown: 137, True: 130})
		_, err := b.d.LookBack(cycle)
		b.check(err)
		if w := b.word(packs[0]); w == register.Usable {
			t.Errorf("131 on a gauge that shows 7 too much; the line is %d; it is %s, and Today leads to it: %v", b.plan().Frozen.RestartMilli, w, b.line("in-doubt"))
		}
	}
}
