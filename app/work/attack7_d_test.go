package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The rule that a pot is first proven was switched off by a device that is taken out since before.
func TestAttack7UnprovenPotByRuleOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t)
	bb := &bench{t: t, dir: t.TempDir(), clk: demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))}
	bb.open()
	a := demo.Answers("en")
	a.Site.Name, a.Site.HeightM, a.Person.Name = "Clinic B", 1200, "In charge at B"
	bb.check(bb.d.SetUp(a))
	b := house{bb, "Clinic B"}
	x.clinics = append(x.clinics, b)
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "letter"}))
	x.carry(tablet, b)
	id := b.burnt(work.BeginForm{Packs: demoPacks(2, 1)}, 135_000, 36)
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	checks, err := demoChecks(b.d, id)
	b.check(err)
	b.check(b.d.Unload(id, checks, true))
	load, err := b.d.Cycle(id)
	b.check(err)
	packs := []model.ID{load.Begun.Packs[0].ID}
	b.check(b.d.Release(id, ""))
	b.zsteal(since)
	p, err := b.d.Proven(b.pot().ID)
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable && !p.Done() {
		t.Errorf("the pot has shown %d of %d, only a rule that counts no more let its first load go, and it is %s", p.Good, p.Need, w)
	}
}

// A load was freed by the dates; then its other device, whose clock had stood ahead, says that it does not know the date.
func TestAttack7DatesUnknownElsewhere(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	ahead := 50 * time.Hour
	p.clk.Pass(48 * time.Hour)
	p.clk.Wall = p.clk.Wall.Add(ahead)
	tablet.check(tablet.d.NewGauge(tablet.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
	tablet.compare(twelveAt...)
	p.clk.Wall = p.clk.Wall.Add(-ahead)
	p.clk.Pass(3 * time.Hour)
	under, load := p.heldAt(131_000)
	p.clk.Pass(24 * time.Hour)
	p.carry(p.tablet, p.d, false)
	if _, err := p.d.SettleDoubt(p.pot().ID, "looked"); err != nil && code(err) != "dates-first" {
		t.Fatal(err)
	}
	if _, err := p.d.SettleByDates(p.pot().ID, "both clocks are right"); err != nil {
		t.Fatal(err)
	}
	tablet.check(tablet.d.Close())
	t.Setenv("MVUKE_STATE", p.states[1])
	tablet.open()
	p.tablet = tablet.d
	tablet.check(tablet.d.AnswerDate(time.Time{}))
	p.clk.Pass(3 * time.Hour)
	in := p.carry(p.tablet, p.d, false)
	l, err := p.d.LookBack(load)
	p.check(err)
	if w := p.word(under[0]); w == register.Usable && !l.Stands && !l.Dates {
		t.Errorf("by what is known now it falls, and it is %s; in-doubt on Today: %v; the stick stops %v", w, p.line("in-doubt"), in.Stopped)
	}
}
