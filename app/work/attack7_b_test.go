package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The tablet's clock stands two days ahead when it tells of another gauge, which shows 12 too much; the laptop lights three hours later without having heard, hears, and the load is freed by the dates. Then the tablet is asked for the date,
// and the answer comes by a stick.
func TestAttack7DatesAnsweredElsewhere(t *testing.T) {
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
	p.carry(p.tablet, p.d, false) // the laptop hears of the gauge
	_, err := p.d.LookBack(load)
	p.check(err)
	if _, err := p.d.SettleDoubt(p.pot().ID, "looked"); err != nil && code(err) != "dates-first" {
		t.Fatal(err)
	}
	if _, err := p.d.SettleByDates(p.pot().ID, "both clocks are right"); err != nil {
		t.Fatal(err)
	}
	if w := p.word(under[0]); w != register.Usable {
		t.Fatal("freed, and it is", w)
	}
	tablet.check(tablet.d.Close())
	t.Setenv("MVUKE_STATE", p.states[1])
	tablet.open()
	p.tablet = tablet.d
	tablet.check(tablet.d.AnswerDate(p.clk.Wall.Add(27 * time.Hour)))
	p.clk.Pass(3 * time.Hour)
	p.carry(p.tablet, p.d, false)
	for i := range 2 {
		l, err := p.d.LookBack(load)
		p.check(err)
		if w := p.word(under[0]); w == register.Usable && !l.Stands && !l.Dates {
			t.Errorf("%d: by what is known now it falls, and it is %s; in-doubt on Today: %v", i, w, p.line("in-doubt"))
		}
		t.Setenv("MVUKE_STATE", p.states[0])
		p.check(p.d.Close())
		p.open()
	}
}

// A reference's error is written wrongly, 60 for 0.6, and put back at once. Nothing was ever wrong.
func TestAttack7ReferenceSlipPutBack(t *testing.T) {
	b := atD(t)
	ref := b.reference("R", 600)
	b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: right}))
	p0 := b.plan().Frozen
	packs, cycle := b.heldAt(131_000)
	b.clk.Pass(time.Hour)
	save := func(milli int64) {
		_, err := b.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: milli, Certificate: "C-1", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
		b.check(err)
	}
	save(9000)
	b.clk.Pass(time.Minute)
	save(600)
	p1 := b.plan().Frozen
	if p1.RestartMilli != p0.RestartMilli {
		t.Errorf("written wrongly and put back within a minute: the line %d -> %d", p0.RestartMilli, p1.RestartMilli)
	}
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if !l.Stands || b.word(packs[0]) != register.Held { // what put it in doubt frees it by a clear alone
		t.Errorf("it stands: %v, and is %s", l.Stands, b.word(packs[0]))
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "looked")
	b.check(err)
	if w := b.word(packs[0]); came.Stood != 1 || w != register.Usable {
		t.Errorf("%+v %s", came, w)
	}
}

// A load of B in doubt by an altitude was looked back on and freed; its pack is lent to C. And one that was released by B's own witness rule.
func TestAttack7FreedAndLent(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyWitness, On: true, Source: "letter"}))
	b.correctGauge(func(g *model.GaugeLooks) { g.SpanMilli, g.LineMilli = 160_000, 1_000 })
	packs, _ := b.heldAt(150_000)
	b.clk.Pass(time.Hour)
	b.correctGauge(func(g *model.GaugeLooks) { g.SpanMilli, g.LineMilli = 250_000, 1_000 })
	_, err := b.d.SettleDoubt(b.pot().ID, "looked")
	b.check(err)
	if w := b.word(packs[0]); w != register.Usable {
		t.Fatal(w)
	}
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
	x.carry(b, x.office)
	x.carry(x.office, c)
	if w := c.word(packs[0]); w != register.Usable {
		a, _ := c.d.Usable(packs[0])
		t.Errorf("at C it is %s %+v", w, a)
	}
	if w := x.office.word(packs[0]); w != register.Usable {
		t.Errorf("at the office it is %s", w)
	}
}

// The tablet, taken out since before, had said that a comparison counts for so much longer; a load was looked back on by an overdue comparison because of that.
func TestAttack7FreedByARuleOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.correctGauge(func(g *model.GaugeLooks) { g.LineMilli, g.ClassMilli = 1000, 1000 })
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.compare(work.ComparePoint{Shown: 57, True: 60}, work.ComparePoint{Shown: 115, True: 118})
	b.clk.Pass(45 * 24 * time.Hour)
	b.sterileOrNot()
	b.clk.Pass(40 * 24 * time.Hour)
	b.sterileOrNot()
	b.clk.Pass(40 * 24 * time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	before := b.plan()
	x.carry(b, tablet)
	tablet.clk.Wall = b.clk.Wall
	tablet.check(tablet.d.SetPolicy(model.Policy{Code: model.PolicyCompareEvery, On: true, Value: 365, Source: "letter"}))
	x.carry(tablet, b)
	after := b.plan()
	if after.Frozen.RestartMilli >= before.Frozen.RestartMilli {
		t.Skip("no difference")
	}
	packs, cycle := b.heldAt(after.Frozen.RestartMilli)
	b.zsteal(since)
	now := b.plan()
	if w := b.word(packs[0]); w == register.Usable && now.Frozen.RestartMilli > after.Frozen.RestartMilli {
		t.Errorf("lit by a line that only a rule of a removed device gave: %s %v", w, b.doubtedBy(cycle))
	}
}
