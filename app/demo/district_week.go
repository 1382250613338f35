package demo

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"mvuke/app/practice"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam/pot"
)

// officerEvery is how many weeks lie between the officer's visits with a stick; testEvery and compareEvery those between spore tests and comparisons.
const (
	officerEvery = 4
	testEvery    = 4
	compareEvery = 12
)

// week lets every clinic run a cycle and use packs; every fourth week the officer comes round with a stick.
func (x *districtOf) week(w, weeks int) error {
	start := x.clk.Wall
	for i, c := range x.clinics {
		x.clk.Wall = start.AddDate(0, 0, i/3).Add(time.Duration(i%3*3) * time.Hour) // three clinics a day, and they work by day
		if err := x.work(c, w, weeks); err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
	}
	x.clk.Wall = start.Add(6 * 24 * time.Hour)
	if w%officerEvery == officerEvery-1 {
		for i, c := range x.clinics {
			if i == len(x.clinics)-1 && w > weeks-8 { // the road to the highest clinic is cut
				continue
			}
			x.clk.Pass(20 * time.Minute)
			if err := errors.Join(x.carry(c, x.office), x.carry(x.office, c)); err != nil {
				return err
			}
		}
	}
	x.clk.Wall = start.AddDate(0, 0, 7)
	return nil
}

// work is a clinic's week.
func (x *districtOf) work(c *clinic, w, weeks int) error {
	if err := x.readTests(c, false); err != nil {
		return err
	}
	if err := errors.Join(x.unwrap(c), x.use(c)); err != nil {
		return err
	}
	if err := c.stock(w, weeks); err != nil {
		return err
	}
	if w%compareEvery == 1 {
		if err := x.compare(c, 0); err != nil {
			return err
		}
	}
	load, err := packed(c.d, 4)
	if err != nil {
		return err
	}
	cycle, err := x.burn(c, load)
	if err != nil || cycle.IsZero() {
		return err
	}
	if w%testEvery == 2 {
		id, err := c.d.PlaceSpore(cycle, model.SporePlaced{Lot: fmt.Sprintf("S-%d", 200+w/8), Expires: x.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true})
		if err != nil {
			return err
		}
		c.tests = append(c.tests, id)
	}
	return x.release(c, cycle)
}

// mishapsOf are what goes wrong in a week: mostly nothing.
func (c *clinic) mishapsOf() []pot.Mishap {
	all := []pot.Mishap{pot.WetWoodGiven, pot.FireDies, pot.CalledAway}
	if c.rng.IntN(12) == 0 {
		return []pot.Mishap{all[c.rng.IntN(len(all))]}
	}
	return nil
}

// burn runs a cycle as the simulated pot and hand of this week do, act by act. It gives the zero id where it was given up.
func (x *districtOf) burn(c *clinic, load []model.LoadPack) (model.ID, error) {
	p, err := c.d.Place()
	if err != nil {
		return model.ID{}, err
	}
	id, plan, err := c.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: load, TestPack: true, WaterML: 2600, Fuel: "wood"})
	if err != nil {
		return id, err
	}
	if c.rng.IntN(40) == 0 {
		x.clk.Pass(25 * time.Minute)
		c.wrapped = append(c.wrapped, load...)
		return model.ID{}, c.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "no dry wood"})
	}
	exact := pot.Dial{Unit: plan.Gauge.Unit, Span: plan.Gauge.Span, Line: plan.Gauge.Line}
	sim, err := practice.Simulate(practice.Setup{Seed: c.rng.Uint64(), Site: work.Air(p.Site), Gauge: plan.Gauge, Dial: &exact, Limit: 180e3, Hand: pot.Steady, Mishaps: c.mishapsOf()})
	if err != nil {
		return id, err
	}
	if err := x.replay(c, id, sim); err != nil {
		return id, err
	}
	x.clk.Pass(70 * time.Minute)
	return id, errors.Join(c.d.Step(id, model.StepDried, nil), c.d.Step(id, model.StepCooled, nil), c.d.CloseCycle(id, model.CycleClosed{Outcome: model.RanThrough}),
		c.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: sim.Outcome.F0Pack > 8}))
}

// replay does at their minutes what the simulated hand did.
func (x *districtOf) replay(c *clinic, id model.ID, sim practice.Simulated) error {
	begun := x.clk.Wall
	at := func(ms int64) {
		if to := begun.Add(time.Duration(ms) * time.Millisecond); to.After(x.clk.Wall) {
			x.clk.Pass(to.Sub(x.clk.Wall))
		}
	}
	steps, looks := slices.Clone(sim.Steps), slices.Clone(sim.Readings)
	for len(steps)+len(looks) > 0 {
		if len(looks) == 0 || (len(steps) > 0 && steps[0].At <= looks[0].At) {
			s := steps[0]
			steps = steps[1:]
			at(s.At)
			var needle *int64
			if s.HasNeedle {
				zero := max(s.NeedleMilli, 0)
				needle = &zero
			}
			if err := c.d.Step(id, s.Code, needle); err != nil {
				return err
			}
			continue
		}
		l := looks[0]
		looks = looks[1:]
		at(l.At)
		if err := c.d.Look(id, max(l.NeedleMilli, 0), l.Answer, max(l.LowestMilli, 0)); err != nil {
			return err
		}
	}
	return nil
}

// release looks at the packs and releases what may be; the rest is rejected.
func (x *districtOf) release(c *clinic, cycle model.ID) error {
	checks, err := GoodChecks(c.d, cycle)
	if err != nil {
		return err
	}
	if c.rng.IntN(15) == 0 && len(checks) > 0 {
		checks[0].Dry = false
	}
	if err := c.d.Unload(cycle, checks, true); err != nil {
		return err
	}
	g, err := c.d.Gate(cycle)
	if err != nil {
		return err
	}
	if !g.Open() {
		c.wrapped = append(c.wrapped, g.Cycle.Begun.Packs...)
		return c.d.Reject(cycle, "readings")
	}
	for _, p := range g.Cycle.Begun.Packs {
		if !slices.ContainsFunc(g.Good, func(good model.LoadPack) bool { return good.ID == p.ID }) {
			c.wrapped = append(c.wrapped, p)
		}
	}
	if err := c.d.Release(cycle, ""); err != nil {
		return err
	}
	for _, p := range g.Good {
		c.live = append(c.live, p.ID)
	}
	return nil
}

// use issues and opens what was released, but for a pack or two that stay on the shelf.
func (x *districtOf) use(c *clinic) error {
	for len(c.live) > 2 {
		id := c.live[0]
		c.live = c.live[1:]
		x.clk.Pass(30 * time.Minute)
		p, err := c.d.Pack(id)
		if err != nil {
			return err
		}
		if !p.State.Good() {
			continue
		}
		c.uses++
		if err := errors.Join(c.d.MovePack(id, model.PackMoved{What: model.MoveIssued, To: "maternity"}),
			c.d.OpenPack(id, work.UseForm{Outside: true, Strip: model.StripReached, Number: fmt.Sprintf("%d/%d", x.clk.Wall.Year(), 1000+c.uses)}),
			c.d.CountBack(id, model.SetCounted{Present: p.Made.Present, Listed: p.Made.Listed})); err != nil {
			return err
		}
	}
	return nil
}

// unwrap takes last week's packs that are not sterile out of their wrap: their tape has turned.
func (x *districtOf) unwrap(c *clinic) error {
	for _, p := range c.wrapped {
		if err := c.d.SpoilPack(p.ID, model.SpoiltOpened); err != nil {
			return err
		}
	}
	c.wrapped = nil
	return nil
}

// readTests reads what was laid in at least two days ago.
func (x *districtOf) readTests(c *clinic, grew bool) error {
	for _, id := range c.tests {
		if _, err := c.d.ReadSpore(id, model.SporeRead{Grew: grew, ControlGrew: true, Hours: 48, Degrees: 57}); err != nil {
			return err
		}
	}
	c.tests = nil
	return nil
}

// compare lays the gauge beside the officer's: what it shows too much.
func (x *districtOf) compare(c *clinic, off float64) error {
	p, err := c.d.Place()
	if err != nil {
		return err
	}
	plan, err := c.d.Plan(p.Pots[0], p.Site, model.Wrapped, nil)
	if err != nil {
		return err
	}
	refs, err := c.d.References()
	if err != nil {
		return err
	}
	var with, overdue model.ID
	for _, r := range refs {
		if r.Overdue {
			overdue = r.ID
		} else {
			with = r.ID
		}
	}
	if with.IsZero() { // the first, or the same with a new certificate
		if with, err = c.d.SaveReference(overdue, model.Reference{Name: "R-07", Unit: "kPa", ErrorMilli: 1000, Certificate: "NK-118", Due: x.clk.Wall.AddDate(1, 9, 0).UnixMilli()}); err != nil {
			return err
		}
	}
	need := float64(plan.Frozen.NeedPa) / 1000
	return c.d.Compare(p.Pots[0], p.Site, work.CompareForm{Cold: true, With: with, Points: []work.ComparePoint{{Shown: 50 + off, True: 50}, {Shown: need + off, True: need}}})
}
