package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// Case 93 (common practice): March at B: 18 lit, 2 given up, 16 reached the hold; 14 released, 1 rejected, 1 unknown for a gap. The rate is 87.5 %, and unknown is not released.
func TestCase093MonthlyFigures(t *testing.T) {
	b := desk(t)
	b.clk.Wall = time.Date(2027, 2, 26, 7, 0, 0, 0, time.UTC)
	b.settled(demo.Burn{Packs: 3, First: 900, Strip: true}) // February's
	b.clk.Wall = time.Date(2027, 3, 1, 7, 0, 0, 0, time.UTC)
	for i := range 14 {
		b.settled(demo.Burn{Packs: 2, First: 10 * i, Strip: true})
		b.clk.Pass(24 * time.Hour)
	}
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 300, Strip: true, FireDies: true})
	b.check(b.d.Reject(id, "readings"))
	b.cycle(demo.Burn{Packs: 2, First: 310, Strip: true, LooksAway: true})
	for i := range 2 {
		p := b.place()
		id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(2, 400+10*i), TestPack: true, WaterML: 2600, Fuel: "wood"})
		b.check(err)
		b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "no wood"}))
		b.clk.Pass(24 * time.Hour)
	}
	b.check(b.d.Boiled("forceps", 20)) // in no figure of cycles
	b.clk.Wall = time.Date(2027, 4, 2, 7, 0, 0, 0, time.UTC)
	b.settled(demo.Burn{Packs: 2, First: 500, Strip: true})
	m, err := b.d.MonthOf(2027, time.March)
	b.check(err)
	if len(m.Sites) != 1 || m.Reported != 1 {
		t.Fatalf("%+v", m)
	}
	f := m.Sites[0]
	if f.Lit != 18 || f.Aborted != 2 || f.Held != 16 || f.Released != 14 || f.Rejected != 1 || f.Unknown != 1 {
		t.Errorf("lit %d, aborted %d, held %d, released %d, rejected %d, unknown %d", f.Lit, f.Aborted, f.Held, f.Released, f.Rejected, f.Unknown)
	}
	if rate, ok := f.Rate(); !ok || rate != 87.5 {
		t.Errorf("%v %v", rate, ok)
	}
	if n, ok := f.Short(); ok {
		t.Errorf("nobody ever told of the stock, and it was short for %d days", n)
	}
	b.check(b.d.TellStock(model.StockTape, 3, true)) // in April: of March nobody knows
	march := func() work.Figures {
		m, err := b.d.MonthOf(2027, time.March)
		b.check(err)
		return m.Sites[0]
	}
	if n, ok := march().Short(); ok {
		t.Errorf("nobody told of the stock by the end of March, and it was short for %d days", n)
	}
	b.clk.Wall = time.Date(2027, 5, 2, 7, 0, 0, 0, time.UTC)
	b.check(b.d.StockOutToday(model.StockTape))
	b.settled(demo.Burn{Packs: 2, First: 600, Strip: true})
	for month, want := range map[time.Month]int{time.April: 0, time.May: 1} {
		m, err := b.d.MonthOf(2027, month)
		b.check(err)
		sum := work.Figures{Reported: true}
		sum.Add(m.Sites[0])
		for _, f := range []work.Figures{m.Sites[0], sum} {
			if n, ok := f.Short(); !ok || n != want {
				t.Errorf("%s: short for %d days, %v; want %d", month, n, ok, want)
			}
		}
	}
}

// settled runs a cycle and releases it.
func (b *bench) settled(x demo.Burn) {
	b.t.Helper()
	id, g := b.cycle(x)
	if !g.Open() {
		b.t.Fatal(stops(g), g.Result.Reasons)
	}
	b.check(b.d.Release(id, ""))
}

// Case 94 (common practice): of a district one clinic has not reported: the roll-up says how many did, and the missing one is missing.
func TestCase094AMissingSiteIsMissing(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	passTo := func(at time.Time, hs ...house) {
		for _, h := range hs {
			for step := 20 * 24 * time.Hour; h.clk.Wall.Before(at); { // a device that writes nothing for months has its date in doubt
				h.clk.Pass(min(step, at.Sub(h.clk.Wall)))
				h.check(h.d.Boiled("forceps", 20))
			}
		}
	}
	passTo(time.Date(2027, 3, 9, 7, 0, 0, 0, time.UTC), b, c, x.office)
	b.sterile(1)
	c.sterile(1)
	x.carry(c, x.office) // its last stick
	passTo(time.Date(2027, 4, 3, 7, 0, 0, 0, time.UTC), b, x.office)
	b.sterile(1)
	x.carry(b, x.office)
	m, err := x.office.d.MonthOf(2027, time.March)
	x.office.check(err)
	if len(m.Sites) != 2 || m.Reported != 1 {
		t.Fatalf("%d of %d", m.Reported, len(m.Sites))
	}
	for _, f := range m.Sites {
		_, rate := f.Rate()
		if (f.Name == "Clinic B") != f.Reported || f.Reported != rate || (!f.Reported && f.Lit != 0) {
			t.Errorf("%+v", f)
		}
		if want := map[string]int{"Clinic B": 120, "Clinic C": 22}[f.Name]; f.StickAgo != want { // to 31 March: from its joining on 1 December, for the next came in April; and from 9 March
			t.Errorf("the last stick of %s came %d days before the month's end, want %d", f.Name, f.StickAgo, want)
		}
	}
	m, err = x.office.d.MonthOf(2027, time.April)
	x.office.check(err)
	for _, f := range m.Sites {
		if want := map[string]int{"Clinic B": 0, "Clinic C": 25}[f.Name]; f.StickAgo != want {
			t.Errorf("the last stick of %s came %d days ago, want %d", f.Name, f.StickAgo, want)
		}
	}
	x.carry(x.office, b) // a clinic knows of devices that it has nothing of, and reports all the same
	if m, err := b.d.MonthOf(2027, time.March); err != nil || len(m.Sites) != 1 || m.Sites[0].Lit != 1 {
		t.Errorf("at the clinic: %+v, %v", m.Sites, err)
	}
	all, err := x.office.d.Standings()
	x.office.check(err)
	for _, s := range all {
		if s.NegativeAgo != -1 || s.GaugeAgo != -1 || s.HeightM == 0 {
			t.Errorf("%s: nobody told of a test or a comparison, and it says %d and %d; %d m", s.Name, s.NegativeAgo, s.GaugeAgo, s.HeightM)
		}
	}
}
