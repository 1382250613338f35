package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/register"
)

// What a cycle adds to the figures of its month.

// count puts a cycle into the figures.
func (d *Desk) count(f *Figures, c register.Cycle) error {
	if held, err := d.outcome(f, c); err != nil || !held {
		return err
	}
	if c.Begun.WaterML > 0 {
		f.WaterML, f.Waters = f.WaterML+c.Begun.WaterML, f.Waters+1
	}
	if _, lit := c.Step(model.StepLit); lit {
		f.Fires++
		for _, x := range c.Steps {
			if x.Code == model.StepFed {
				f.Fed++
			}
		}
	}
	r, err := d.Judge(c)
	if err != nil {
		return err
	}
	if r.Held > 0 {
		f.HoldMinutes, f.HoldAsked, f.Holds = f.HoldMinutes+r.Held, f.HoldAsked+r.Asked, f.Holds+1
	}
	from, okFrom := c.Step(model.StepVentStart)
	to, okTo := c.Step(model.StepVentEnd)
	if okFrom && okTo && to.At > from.At {
		f.VentMinutes, f.Vents = f.VentMinutes+float64(to.At-from.At)/60000, f.Vents+1
	}
	return nil
}

// outcome counts what became of a cycle; counted: it reached the hold, or should have.
func (d *Desk) outcome(f *Figures, c register.Cycle) (counted bool, err error) {
	if c.Begun.Practice {
		return false, nil
	}
	if c.Trial() {
		f.Trials++
		return false, nil
	}
	f.Lit++
	f.Packs += len(c.Begun.Packs)
	for _, bad := range c.BadPacks {
		if bad {
			f.Wet++
		}
	}
	failed := len(c.Rejected) > 0
	switch {
	case c.Aborted() && !c.Closed.ReachedMark:
		f.Aborted++
		return false, nil
	case c.Aborted():
		failed = true
	}
	f.Held++
	released, stopped := false, false
	pot := model.Ref{Noun: model.NounSterilizer, ID: c.Begun.Sterilizer} // what stops that stops what came out of it
	if !failed {
		if err := d.read(func(src register.Source) {
			for _, p := range c.Begun.Packs {
				a := register.IsUsable(src, packRef(p.ID))
				stopped = stopped || slices.ContainsFunc(a.Holds, func(h register.Hold) bool { return slices.Contains(h.Cause.Body().Refs(), pot) })
				released = released || (!a.Release.IsZero() && !a.Override)
			}
		}); err != nil {
			return true, err
		}
		released = released && len(c.Released) > 0 && !c.ToConfirm && !held(c) && !stopped
	}
	switch {
	case failed:
		f.Rejected++
	case released:
		f.Released++
	default:
		f.Unknown++
	}
	return true, nil
}
