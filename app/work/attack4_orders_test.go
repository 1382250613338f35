package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// A comparison with two points, as the screen takes them, and an altitude put right, in both orders.
func TestTwoPoints(t *testing.T) {
	got := map[string]bool{}
	for _, order := range []string{"raised, then compared", "compared, then raised"} {
		t.Run(order, func(t *testing.T) {
			t.Setenv("MVUKE_STATE", t.TempDir())
			b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2027, 2, 20, 7, 0, 0, 0, time.UTC))}
			b.open()
			a := demo.Answers("en")
			a.Site.HeightM, a.Site.How, a.Site.WithinM = 1200, model.BySurvey, 10
			a.Gauge.LineMilli, a.Gauge.ClassMilli = 1000, 1000
			b.check(b.d.SetUp(a))
			b.proven()
			t.Cleanup(func() { b.d.Close() })
			b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: b.reference("R2", 2500), Points: []work.ComparePoint{{50, 50}, {130, 130}}}))
			packs, cycle := b.heldAt(131_000)
			b.clk.Pass(24 * time.Hour)
			cmp := func() { b.compare(work.ComparePoint{Shown: 50, True: 54}, work.ComparePoint{Shown: 135, True: 132}) }
			if order[0] == 'r' {
				b.raise(2400)
				b.clk.Pass(time.Hour)
				cmp()
			} else {
				cmp()
				b.clk.Pass(time.Hour)
				b.raise(2400)
			}
			_, err := b.d.LookBack(cycle)
			b.check(err)
			_, err = b.d.SettleDoubt(b.pot().ID, "looked back")
			b.check(err)
			got[order] = b.state(packs[0]) == work.ShelfReady
		})
	}
	if got["compared, then raised"] && !got["raised, then compared"] {
		t.Error("the same two corrections: in one order the load falls, in the other it is ready")
	}
}
