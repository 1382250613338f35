package work_test

import (
	"testing"
	"time"

	"mvuke/app/tables"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// An enrolled device writes a beginning whose plan cannot be, and a look.
func TestAttack6APlanThatCannotBe(t *testing.T) {
	for name, spoil := range map[string]func(*model.CycleBegun, *model.Reading){
		"air below nothing": func(c *model.CycleBegun, _ *model.Reading) {
			c.Plan.NominalPa, c.Plan.LowPa, c.Plan.HighPa = -9e9, -9e9, -9e9
		},
		"no unit":       func(c *model.CycleBegun, _ *model.Reading) { c.Plan.Unit = "stone" },
		"no plan":       func(c *model.CycleBegun, _ *model.Reading) { c.Plan = model.FrozenPlan{} },
		"minutes":       func(c *model.CycleBegun, _ *model.Reading) { c.Plan.Minutes, c.Plan.GapMinutes = -5, 1<<62 },
		"needle":        func(_ *model.CycleBegun, r *model.Reading) { r.NeedleMilli = 1 << 62 },
		"below nothing": func(_ *model.CycleBegun, r *model.Reading) { r.NeedleMilli = -1 << 62 },
		"at":            func(_ *model.CycleBegun, r *model.Reading) { r.At = -1 << 62 },
		"begun":         func(c *model.CycleBegun, _ *model.Reading) { c.Begun = 1 << 62 },
	} {
		t.Run(name, func(t *testing.T) {
			x := newDistrictOf(t, "Clinic B", "Clinic C")
			b, c := x.clinics[0], x.clinics[1]
			x.join(b)
			x.join(c)
			_, cycle := b.sterile(1)
			b.grows(cycle)
			x.carry(b, x.office)
			_, good := c.sterile(1)
			from, err := c.d.Cycle(good)
			c.check(err)
			begun := from.Begun
			r := model.Reading{At: 60_000, NeedleMilli: 130_000}
			spoil(&begun, &r)
			begun.Packs = []model.LoadPack{{ID: model.ID{77, 1}, Label: "X1", Tape: true}}
			a := c.manager(77)
			id := model.ID{66, 6}
			refs := []model.Ref{cref(id), {Noun: model.NounSterilizer, ID: begun.Sterilizer}, pref(model.ID{77, 1})}
			c.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: refs, Payload: begun})
			c.put(a, entry.Draft{Kind: model.KindReadings, Targets: refs[:1], Payload: model.Readings{Source: model.Live, List: []model.Reading{r, r}}})
			x.carry(c, x.office)
			if _, err := c.d.Today(); err != nil {
				t.Error("Today of C:", err)
			}
			if _, err := x.office.d.Today(); err != nil {
				t.Error("Today of the office:", err)
			}
			if _, err := x.office.d.Standings(); err != nil {
				t.Error("rows:", err)
			}
			m, err := x.office.d.MonthOf(2026, time.December)
			if err != nil {
				t.Error("month:", err)
			}
			grew := 0
			for _, f := range m.Sites {
				grew += f.Grew
			}
			if err == nil && grew == 0 {
				t.Error("no growth in the month")
			}
			for _, n := range tables.Exports {
				if _, err := tables.Read(x.office.d, n); err != nil {
					t.Error("table", n, err)
				}
			}
			c.remove(a) // it is taken out, with all that it said
			x.carry(c, x.office)
			if _, err := x.office.d.MonthOf(2026, time.December); err != nil {
				t.Error("the month, after that device was taken out:", err)
			}
			if _, err := c.d.Today(); err != nil {
				t.Error("Today of C, after that device was taken out:", err)
			}
		})
	}
}

// A stolen tablet, long taken out, writes one look at a load that is on the fire.
func TestAttack6ALookOfAStolenTablet(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	b.grows(cycle)
	a := b.gone(71)
	b.put(a, entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(cycle)}, Payload: model.Readings{Source: model.Live, List: []model.Reading{{At: 1, NeedleMilli: 1 << 62}}}})
	if _, err := b.d.Today(); err != nil {
		t.Error("Today:", err)
	}
	if m, err := b.d.MonthOf(2026, time.December); err != nil {
		t.Error("month:", err)
	} else if m.Sites[0].Grew == 0 {
		t.Error("no growth")
	}
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, TestPack: true, WaterML: 2600, Fuel: "wood", Trial: true})
	b.check(err)
	b.put(a, entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(id)}, Payload: model.Readings{Source: model.Live, List: []model.Reading{{At: 1, NeedleMilli: 1 << 62}}}})
	if _, err := b.d.Today(); err != nil {
		t.Error("Today, with a load on the fire:", err)
	}
	if _, err := tables.Read(b.d, "cycles"); err != nil {
		t.Error("cycles:", err)
	}
}
