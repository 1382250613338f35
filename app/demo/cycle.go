package demo

import (
	"errors"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// Burn is how a demo cycle goes.
type Burn struct {
	Packs     int
	First     int
	FireDies  bool // at minute 14 of the hold, and the person goes on as if it had not
	StopAfter int  // minutes of hold after which the script stops, the cycle still lit; 0: to the end
	Strip     bool // the test pack's strip reached its end point
	LooksAway bool // twenty minutes without a look
	Exhaust   int  // minutes until the steam is out; 0: seven
}

// Cycle runs one cycle on the pot by the steps a person takes, moving the clock.
func Cycle(d *work.Desk, clk *Clock, b Burn) (model.ID, error) {
	return CycleWith(d, clk, b, Packs(b.Packs, b.First))
}

// CycleWith is Cycle with a load that the caller has packed.
func CycleWith(d *work.Desk, clk *Clock, b Burn, packs []model.LoadPack) (model.ID, error) {
	p, err := d.Place()
	if err != nil {
		return model.ID{}, err
	}
	r := runner{d: d, clk: clk}
	id, plan, err := d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: packs, Trial: len(packs) == 0, TestPack: true, WaterML: 2600, Fuel: "wood"})
	if err != nil {
		return id, err
	}
	r.id, r.mark, r.line = id, plan.Frozen.MarkMilli, plan.Frozen.RestartMilli
	r.step(model.StepLidShut, 3)
	r.step(model.StepLit, 2)
	r.step(model.StepVentStart, 17)
	r.step(model.StepVentEnd, 11)
	for i, share := range []int64{45, 78, 97} {
		r.look(4, r.mark*share/100, model.NoAnswer, 0)
		_ = i
	}
	r.hold(b, int(plan.Frozen.Minutes))
	if b.StopAfter > 0 {
		return id, r.err
	}
	return id, r.finish(b)
}

type runner struct {
	d    *work.Desk
	clk  *Clock
	id   model.ID
	mark int64
	line int64
	err  error
}

func (r *runner) step(code model.StepCode, after int) {
	r.clk.Pass(time.Duration(after) * time.Minute)
	if r.err == nil {
		r.err = r.d.Step(r.id, code, nil)
	}
}

func (r *runner) look(after int, needle int64, a model.Answer, lowest int64) {
	r.clk.Pass(time.Duration(after) * time.Minute)
	if r.err == nil {
		r.err = r.d.Look(r.id, needle, a, lowest)
	}
}

// hold looks every few minutes with the small swings that a tended fire makes.
func (r *runner) hold(b Burn, minutes int) {
	swing := []int64{0, 4, 6, 3, -2, -4, 1, 5, 2, -3}
	r.look(3, r.mark, model.NoAnswer, 0)
	for m, i := 4, 1; m <= minutes+3; m, i = m+4, i+1 {
		switch {
		case b.FireDies && m == 16:
			r.look(4, r.line*6/10, model.Dipped, r.line*6/10)
			continue
		case b.LooksAway && m > 4 && m < 24:
			r.clk.Pass(4 * time.Minute)
			continue
		}
		needle := r.mark + swing[i%len(swing)]*1000
		r.look(4, needle, model.Stayed, 0)
		if b.StopAfter > 0 && m >= b.StopAfter {
			return
		}
	}
}

func (r *runner) finish(b Burn) error {
	r.step(model.StepFireDrawn, 1)
	r.step(model.StepSteamOut, 1)
	if b.Exhaust == 0 {
		b.Exhaust = 7
	}
	r.clk.Pass(time.Duration(b.Exhaust) * time.Minute)
	zero := int64(0)
	if r.err == nil {
		r.err = r.d.Step(r.id, model.StepZero, &zero)
	}
	r.clk.Pass(3 * time.Minute)
	if r.err == nil {
		r.err = r.d.Step(r.id, model.StepOpened, &zero)
	}
	r.step(model.StepDried, 30)
	r.step(model.StepCooled, 40)
	if r.err == nil {
		r.err = r.d.CloseCycle(r.id, model.CycleClosed{Outcome: model.RanThrough})
	}
	if r.err == nil {
		r.err = r.d.Witnessed(r.id, model.Witness{Kind: model.WitnessStrip, Reached: b.Strip})
	}
	return r.err
}

// GoodChecks finds nothing wrong with any pack of a cycle.
func GoodChecks(d *work.Desk, id model.ID) ([]model.PackCheck, error) {
	c, err := d.Cycle(id)
	if err != nil {
		return nil, err
	}
	var out []model.PackCheck
	for _, p := range c.Begun.Packs {
		out = append(out, model.PackCheck{Pack: p.ID, TapeOK: true, Dry: true, WrapOK: true})
	}
	return out, nil
}

// Fill writes the demo clinic's past: released loads, one that the fire spoilt, one that was not
// watched, one that waits for release, and one on the fire.
func Fill(d *work.Desk, clk *Clock) error {
	if err := d.SetUp(Answers("en")); err != nil {
		return err
	}
	if _, err := d.AddPerson(model.Person{Name: "Joseph", Roles: []model.Role{model.RoleRecorder}, Language: "en"}); err != nil {
		return err
	}
	if err := lists(d); err != nil {
		return err
	}
	if err := d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "the pot was proven on paper before the register began"}); err != nil {
		return err
	}
	for i, b := range []Burn{{Packs: 5, Strip: true}, {Packs: 4, Strip: true}, {Packs: 6, Strip: true, FireDies: true}, {Packs: 4, Strip: true}, {Packs: 4, Strip: true, LooksAway: true}, {Packs: 5, Strip: true}} {
		load, err := packed(d, b.Packs)
		if err != nil {
			return err
		}
		id, err := CycleWith(d, clk, b, load)
		if err != nil {
			return err
		}
		if err := settle(d, id, i == 5); err != nil {
			return err
		}
		clk.Pass(26 * time.Hour)
	}
	if err := errors.Join(live(d, clk), spores(d, clk), upkeep(d, clk)); err != nil {
		return err
	}
	load, err := packed(d, 6)
	if err != nil {
		return err
	}
	_, err = CycleWith(d, clk, Burn{StopAfter: 16}, load[:4])
	return err
}

func settle(d *work.Desk, id model.ID, wait bool) error {
	checks, err := GoodChecks(d, id)
	if err != nil {
		return err
	}
	if err := d.Unload(id, checks, true); err != nil || wait {
		return err
	}
	g, err := d.Gate(id)
	if err != nil {
		return err
	}
	if g.Open() {
		return d.Release(id, "")
	}
	return d.Reject(id, "readings")
}
