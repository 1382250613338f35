package work

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// A load that was planned by the word of a device which was taken out since before: it is judged by what counts now.

// plannedNow is what counts now instead of a comparison or an altitude that a load was planned by; code is what to call it, "": it was not planned by that. ok is false where it cannot be judged.
func (d *Desk) plannedNow(c register.Cycle, h register.Hold) (gauge, height []assess.Found, code string, ok bool, err error) {
	var pot Pot
	var site model.Site
	var two bool
	err = d.read(func(src register.Source) {
		if !slices.ContainsFunc(c.State.Entries, func(v entry.Verified) bool {
			return v.Body().Kind == model.KindCycleBegun && slices.ContainsFunc(register.PlannedBy(src, v), func(w entry.Verified) bool { return w.ID() == h.Cause.ID() })
		}) {
			return
		}
		code = "planned"
		pot = potOf(src, c.Begun.Sterilizer).with(src, c.Begun.Gauge)
		house, _ := register.House(src, c.State.Ref)
		site, two, ok = register.Described[model.Site](register.Of(src, model.Ref{Noun: model.NounSite, ID: house}), model.KindSite)
	})
	if err != nil || code == "" {
		return nil, nil, code, true, err
	}
	if h.Code == register.HoldHeight {
		if !ok || two {
			return nil, nil, code, false, nil
		}
		f, err := foundHeight(site)
		return nil, []assess.Found{f}, code, err == nil, err
	}
	if pot.TwoDials || pot.Gauge.Unit != c.Begun.Plan.Unit {
		return nil, nil, code, false, nil
	}
	f, ok, err := d.foundNow(pot, pot.Gauge.Unit, pot.Gauge.SpanMilli, math.MaxInt32)
	if err != nil || !ok {
		return nil, nil, code, false, err
	}
	return []assess.Found{f}, nil, code, true, nil
}
