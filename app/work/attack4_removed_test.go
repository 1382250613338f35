package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The altitude was lowered by a device that is taken out.
func TestLoweredByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0] // 1200 m
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	p := tablet.place()
	a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	a.Site.HeightM, a.Site.How, a.Site.WithinM = 200, model.BySurvey, 10
	tablet.check(tablet.d.Correct(p.Pots[0], p, a))
	x.carry(tablet, b)
	packs, cycle := b.sterile(1)
	b.zsteal(since)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	plan, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	if b.state(packs[0]) == work.ShelfReady && c.Begun.Plan.NeedPa+300 < plan.Frozen.NeedPa {
		t.Error("run for less than is needed here, and ready")
	}
	if l, err := b.d.LookBack(cycle); err != nil || l.Stands || !slices.ContainsFunc(l.Causes, func(f work.FoundOut) bool { return f.Code == "planned" }) {
		t.Errorf("planned for 106 kPa, and 117 are needed: stands %v, %+v, %v", l.Stands, l.Causes, err)
	}
	b.tablesHold()
}

// Softer rules by a device that is taken out.
func TestSofterRulesOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	for _, p := range []model.Policy{{Code: model.PolicyWrapped, On: true, Value: 15}, {Code: model.PolicyDose, On: true, Value: 8000}, {Code: model.PolicyVent, On: true, Value: 5}} {
		p.Source = "nobody"
		if err := tablet.d.SetPolicy(p); err != nil {
			if p.Code == model.PolicyWrapped {
				p.Value = 20
				tablet.check(tablet.d.SetPolicy(p))
			}
		}
	}
	x.carry(tablet, b)
	packs, cycle := b.sterile(1)
	later, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, demo.Packs(1, 900)) // not released yet
	b.check(err)
	checks, err := demo.GoodChecks(b.d, later)
	b.check(err)
	b.check(b.d.Unload(later, checks, true))
	b.zsteal(since)
	if g, err := b.d.Gate(later); err != nil || g.Open() {
		t.Error("a load of 22 minutes that is not released yet can be, where 33 are asked:", stops(g), g.Result.Held, err)
	}
	c, err := b.d.Cycle(cycle)
	b.check(err)
	plan, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	if b.state(packs[0]) == work.ShelfReady && c.Begun.Plan.Minutes < plan.Frozen.Minutes {
		t.Error("held for less than is asked, by the word of a device that is taken out, and ready")
	}
	b.tablesHold()
}

// Compared by a device that is taken out.
func TestComparedByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	ref := b.reference("R", 1500)
	x.carry(b, tablet)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.Compare(tablet.pot(), tablet.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{50, 54}, {118, 122}}}))
	x.carry(tablet, b)
	packs, cycle := b.sterile(1)
	b.zsteal(since)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	plan, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	if b.state(packs[0]) == work.ShelfReady && c.Begun.Plan.CountedPa+register.DustPa < plan.Frozen.CountedPa {
		t.Error("its plan rests on a comparison that counts no more, and it is ready; nothing on Today")
	}
	b.tablesHold()
}

// Looked back on by a comparison of a device that is taken out after.
func TestFreedByAComparisonOfARemovedDevice(t *testing.T) {
	p, tablet, packs, cycle := twoAtD(t, 135_000)
	b := p.bench
	b.compare(high...)
	wrong := b.told()[0]
	p.carry(b.d, p.tablet, false)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.compare(right...)
	p.carry(p.tablet, b.d, false)
	b.clk.Pass(time.Hour)
	b.check(b.d.Withdraw(b.pot(), wrong, "of another gauge"))
	_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	if s := b.state(packs[0]); s != work.ShelfReady {
		t.Fatalf("it stands by what counts, and is %s", s)
	}
	b.zsteal(since)
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if !l.Stands && b.state(packs[0]) == work.ShelfReady {
		t.Error("freed by the word of a device that is taken out; by what counts it falls, and it is ready")
	}
	b.tablesHold()
}

// Strip and packs were told by a tablet that is taken out.
func TestReleasedOnTheWordOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	id := b.burnt(work.BeginForm{Packs: demo.Packs(2, 1)}, 135_000, 36)
	x.carry(b, tablet)
	checks, err := demo.GoodChecks(tablet.d, id)
	b.check(err)
	c, err := b.d.Cycle(id)
	b.check(err)
	if c.Witness == nil {
		tablet.check(tablet.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	}
	tablet.check(tablet.d.Unload(id, checks, true))
	x.carry(tablet, b)
	b.check(b.d.Release(id, ""))
	b.zsteal(since)
	c, err = b.d.Cycle(id)
	b.check(err)
	_, err = b.d.Gate(id)
	b.check(err)
	if word(b.bench, id) == register.Usable {
		t.Error("nobody whose word counts saw strip, tape or dryness, and it is usable")
	}
	b.tablesHold()
}
