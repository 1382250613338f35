package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The only comparison of the gauge was made by a tablet that is taken out since before it: it found that the gauge shows too little. A load that was planned by it is held, as it should be; looked back on,
// it is judged "by what counts now", and that is the tablet's own comparison.
func TestAttack6PlannedByARemovedDeviceFreedByItself(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	a := work.Answers{Language: "en", Site: b.place().Site, Pot: b.pot().Looks, Gauge: b.pot().Gauge, Person: model.Person{Name: "x"}}
	a.Gauge.LineMilli, a.Gauge.ClassMilli = 1000, 1000
	b.check(b.d.Correct(b.pot(), b.place(), a))
	before := b.plan()
	tablet := x.twin(b)
	x.carry(tablet, b)
	ref := b.reference("R", 1500)
	x.carry(b, tablet)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.Compare(tablet.pot(), tablet.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{50, 54}, {118, 122}}}))
	x.carry(tablet, b)
	packs, cycle := b.heldAt(116_000)
	b.zsteal(since)
	after := b.plan()
	if after.Frozen.RestartMilli < before.Frozen.RestartMilli {
		t.Fatal("mark")
	}
	if w := b.word(packs[0]); w != register.Held {
		t.Fatal("planned by it:", w)
	}
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if l.Stands {
		t.Errorf("the needle stood at 116; by what counts the line is at %d (now again), and looked back on the line is at %.2f: it stands", after.Frozen.RestartMilli/1000, l.Now.Line)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("%+v: nobody whose word counts compared the gauge; a load under the line is %s, %s", came, w, b.state(packs[0]))
	}
	b.tablesHold()
}

// The same of another gauge that was on the pot without the knowledge of who lit.
func TestAttack6SwappedJudgedByARemovedDevice(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 142_000)
	b := p.bench
	b.compare(low...)
	p.carry(b.d, p.tablet, false)
	p.clk.Pass(48 * time.Hour)
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 4000}))
	p.clk.Pass(time.Hour)
	under, load := tablet.heldAt(128_500) // has not heard of it
	p.carry(p.tablet, b.d, false)
	p.carry(b.d, p.tablet, false)
	l, err := b.d.LookBack(load)
	b.check(err)
	if l.Stands {
		t.Fatal("by class it stands:", l.Now.Line)
	}
	p.clk.Pass(time.Hour)
	since := b.clk.Wall
	p.clk.Pass(time.Hour)
	tablet.compare(low...)
	p.carry(p.tablet, b.d, false)
	b.zsteal(since)
	l, err = b.d.LookBack(load)
	b.check(err)
	if l.Stands {
		t.Errorf("by class it fell; a device that is taken out compared it, and it stands: %.2f, %.2f before", l.Now.Line, 129.414)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "looked")
	b.check(err)
	if w := b.word(under[0]); w == register.Usable {
		t.Errorf("%+v %s", came, w)
	}
}

// The comparison of the other gauge is long overdue: the mark takes no more off by it.
func TestAttack6SwappedJudgedByAnOverdueComparison(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 142_000)
	b := p.bench
	p.clk.Pass(48 * time.Hour)
	old := b.pot().Looks.Gauge
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 4000}))
	p.clk.Pass(48 * time.Hour)
	b.compare(low...) // of gauge 9
	p.clk.Pass(50 * 24 * time.Hour)
	b.sterileOrNot()
	p.carry(b.d, p.tablet, false)
	tablet.sterileOrNot()
	p.clk.Pass(50 * 24 * time.Hour)
	b.sterileOrNot()
	tablet.sterileOrNot()
	b.check(b.d.OnThePot(b.pot(), old, false))
	p.clk.Pass(time.Hour)
	b.compare(low...)
	p.carry(b.d, p.tablet, false)
	p.clk.Pass(72 * time.Hour)
	was, ok, err := b.d.KnownGauge(b.pot(), "9")
	b.check(err)
	if !ok {
		t.Fatal()
	}
	b.check(b.d.OnThePot(b.pot(), was.Looks.Gauge, false))
	p.clk.Pass(72 * time.Hour)
	_, load := tablet.heldAt(128_500) // has not heard that 9 is on again
	p.carry(p.tablet, b.d, false)
	l, err := b.d.LookBack(load)
	b.check(err)
	plan := b.plan()
	if l.Stands {
		t.Errorf("gauge 9: mark by %s %d; looked back on %.2f: stands", plan.Gauge.Standing, plan.Frozen.RestartMilli, l.Now.Line)
	}
}
