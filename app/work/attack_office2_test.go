package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Each of these once made the office, or a stick, say less than was so.

// The reference failed its own check: that makes no gauge compared.
func TestAReferenceThatWasWrongComparedNothingToday(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(300 * 24 * time.Hour)
	b.check(b.d.TellStock(model.StockTape, 3, true)) // something of this month
	before, care := b.monthNow().ComparedAgo, b.task(model.CareGauge)
	if before != 300 || !care.Due() {
		t.Fatal(before, care)
	}
	_, err := b.d.ReferenceWrong(b.reference("R", 600), 1)
	b.check(err)
	if after := b.monthNow().ComparedAgo; after != before {
		t.Errorf("the reference was found wrong today, and the month says that the gauge was compared %d days ago, not %d; it is %s", after, before, b.standing())
	}
	if now := b.task(model.CareGauge); !now.Due() {
		t.Errorf("care of the gauge was due for %d days; the reference was found wrong, and it is due in %d", -care.Left, now.Left)
	}
}

// The office's date stood ahead for a day; a clinic's clock is ahead too.
func TestADateAheadForADayHidesNoSilence(t *testing.T) {
	x, b, c := twoClinics(t)
	real := x.office.clk.Wall
	b.clk.Wall = real.AddDate(0, 3, 0)
	b.sterile(1)
	x.carry(b, x.office)
	x.office.clk.Wall = real.AddDate(1, 0, 0)
	b.sterile(1)
	x.carry(b, x.office)
	x.office.clk.Wall = real.AddDate(0, 0, 1)
	c.clk.Wall = real.AddDate(0, 0, 1)
	c.check(c.d.TellStock(model.StockTape, 3, true))
	x.carry(c, x.office)
	x.office.clk.Wall = real.AddDate(0, 0, 60)
	all, err := x.office.d.Standings()
	b.check(err)
	for _, s := range all {
		if s.Name == b.name && s.StickDays < 59 {
			t.Errorf("its last stick came 60 days ago, and the row says %d", s.StickDays)
		}
	}
}

// The clock of the clinic was two months ahead when it tested and compared.
func TestAClockAheadMakesNothingYounger(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	real := b.clk.Wall
	b.clk.Wall = b.clk.Wall.AddDate(0, 2, 0)
	_, load := b.sterile(1)
	b.zneg(b.spore(load, zyear, true))
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	x.carry(b, x.office)
	worst := 0
	for _, days := range []int{1, 20, 45, 62, 70, 90} {
		x.office.clk.Wall = real.AddDate(0, 0, days)
		all, err := x.office.d.Standings()
		b.check(err)
		s := all[0]
		if min(s.NegativeAgo, s.GaugeAgo) < days-1 {
			worst = days
		}
	}
	if worst > 0 {
		t.Errorf("the test came on a stick %d days ago, and the row makes it younger than the stick that brought it", worst)
	}
}

// The same, and its stick comes forty days later: what it tells last says by how much its clock stood ahead.
func TestAClockAheadMakesNothingYoungerByALateStick(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	real := b.clk.Wall
	b.clk.Wall = b.clk.Wall.AddDate(0, 2, 0)
	_, load := b.sterile(1)
	b.zneg(b.spore(load, zyear, true))
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	b.clk.Pass(40 * 24 * time.Hour)
	b.check(b.d.TellStock(model.StockTape, 3, true))
	x.office.clk.Wall = real.AddDate(0, 0, 40)
	x.carry(b, x.office)
	for _, days := range []int{41, 45, 70, 100, 120} {
		x.office.clk.Wall = real.AddDate(0, 0, days)
		all, err := x.office.d.Standings()
		b.check(err)
		if s := all[0]; min(s.NegativeAgo, s.GaugeAgo) < days-3 || max(s.NegativeAgo, s.GaugeAgo) > days+3 {
			t.Errorf("tested and compared %d days ago; the row says %d and %d", days, s.NegativeAgo, s.GaugeAgo)
		}
	}
}

// A stick opens a recall again that was ended; the office is told.
func TestAStickOpensAnEndedRecallAgain(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, load := b.sterile(2)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(id, ""))
	x.carry(b, x.office)
	if _, err := x.office.d.Standings(); err != nil {
		t.Fatal(err)
	}
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/78", Anyway: true}))
	in := x.carry(b, x.office)
	r, err := x.office.d.Recall(id)
	b.check(err)
	if r.Closed {
		t.Fatal("closed")
	}
	if !in.Stops() {
		t.Errorf("the stick says that a called-back pack was opened on somebody, its recall is open again, and the office is told that nothing is stopped by it: %+v %+v", in.Stopped, in.Worse)
	}
	if all, err := x.office.d.Standings(); err != nil || all[0].Recalls != 1 {
		t.Errorf("its row: %+v %v", all, err)
	}
}

// A pot out of service by its valve.
func TestAValveThatDoesNotLiftIsSeenAtTheOffice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	x.carry(b, x.office)
	b.check(b.d.LiftValve(b.pot(), false, 0))
	x.carry(b, x.office)
	all, err := x.office.d.Standings()
	b.check(err)
	if !b.pot().Out || !all[0].Bad() || !all[0].Out {
		t.Errorf("pot out at home: %v; at the office %+v", b.pot().Out, all[0])
	}
}

// One load in doubt was rejected, another came into doubt: the line of Today is the same.
func TestAnotherLoadComesIntoDoubt(t *testing.T) {
	p, tablet, _, one := twoAtD(t, 136_000)
	site, err := p.d.SiteID()
	p.check(err)
	carry := func(from, to *bench) work.BroughtIn {
		t.Helper()
		dir := t.TempDir()
		_, err := from.d.TakeOut(site, dir, false, nil)
		from.check(err)
		in, err := to.d.BringIn(dir)
		to.check(err)
		return in
	}
	p.compare(five...)
	p.clk.Pass(time.Hour)
	packs, _ := p.heldAt(140_000)
	in := carry(p.bench, tablet)
	if !in.Stops() {
		t.Fatal("one load is in doubt, and the tablet is told of nothing")
	}
	tablet.check(tablet.d.Reject(one, "wet"))
	tablet.compare(twelveAt...)
	if s := p.word(packs[0]); s != register.Usable {
		t.Fatal(s)
	}
	in = carry(tablet, p.bench)
	if p.word(packs[0]) == register.Usable {
		t.Fatal("140 on a gauge that shows 12 too much is usable")
	}
	if !slices.ContainsFunc(in.Stopped, func(l work.Line) bool { return l.Code == "in-doubt" }) {
		t.Error("the stick put load two in doubt, of which packs were usable, and it is said that nothing was stopped")
	}
}
