package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
	"mvuke/steam"
)

func (b *bench) correctGauge(change func(*model.GaugeLooks)) {
	b.t.Helper()
	p := b.place()
	a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	change(&a.Gauge)
	b.check(b.d.Correct(p.Pots[0], p, a))
}

// The dial was taken for one in bar and is one in kgf/cm2: what it showed was two per cent less. Put right under Setup, Correct.
// The class of the gauge was written too well.
// The same words, by a device that is taken out since before.
// The reference gauge was stated, and its certificate, by a device that is taken out since before.
func TestAttack6ReferenceByARemovedDevice(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 142_000)
	b := p.bench
	ref, err := b.d.SaveReference(model.ID{}, model.Reference{Name: "R2", Unit: "kPa", ErrorMilli: 8000, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 0, 3).UnixMilli()})
	b.check(err)
	p.carry(b.d, p.tablet, false)
	since := b.clk.Wall
	b.clk.Pass(5 * 24 * time.Hour)
	_, err = tablet.d.SaveReference(ref, model.Reference{Name: "R2", Unit: "kPa", ErrorMilli: 600, Certificate: "C-9", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
	b.check(err)
	p.carry(p.tablet, b.d, false)
	b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: low}))
	packs, _ := b.heldAt(128_500)
	b.zsteal(since)
	plan := b.plan()
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("a reference of 8 kPa error whose check was due was made good by a device that is taken out, and a load by the comparison with it is %s", w)
	}
	if plan.Gauge.Standing == steam.Compared || plan.Frozen.RestartMilli < 129_000 {
		t.Errorf("the mark is made by that comparison still: %s, %d", plan.Gauge.Standing, plan.Frozen.RestartMilli)
	}
}
