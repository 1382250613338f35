package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// A pot proven by empty cycles whose gauge was found wrong.
func TestProvenByAWrongGauge(t *testing.T) {
	for _, loaded := range []bool{false, true} {
		t.Setenv("MVUKE_STATE", t.TempDir())
		b := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2027, 2, 20, 7, 0, 0, 0, time.UTC))}
		b.open()
		a := demo.Answers("en")
		a.Gauge.ClassMilli, a.Gauge.LineMilli = 1000, 1000
		b.check(b.d.SetUp(a))
		b.compare(right...)
		for i := range 3 {
			if loaded {
				b.ranLoad(demo.Packs(2, 100*i+1), 126_000)
			} else {
				id := b.burnt(work.BeginForm{Trial: true}, 126_000, 32)
				b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
			}
		}
		p, err := b.d.Proven(b.pot().ID)
		b.check(err)
		b.clk.Pass(24 * time.Hour)
		b.compare(work.ComparePoint{Shown: 72, True: 60}, work.ComparePoint{Shown: 136, True: 124})
		q, err := b.d.Proven(b.pot().ID)
		b.check(err)
		if p.Done() && q.Done() {
			t.Error("loaded", loaded, ": by the gauge as it is known now none of the three was hot enough, and the pot is proven")
		}
		b.d.Close()
	}
}
