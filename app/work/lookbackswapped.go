package work

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// swapped is what a load is judged by that was lit without knowing that another gauge was on the pot: all that was found of that one, or what its class may hide. before says that by the dates it was lit before that:
// it stands by what it was judged by, if somebody answers for the dates. code is what to call it; "": it cannot be read.
func (d *Desk) swapped(c register.Cycle, cause entry.Verified) (by []assess.Found, code string, before bool, err error) {
	var x model.Sterilizer
	if cause.Body().Decode(&x) != nil {
		return nil, "", false, nil
	}
	if no, err := d.deniedSince(cause, c.Begun.Sterilizer, c.Begun.Gauge); err != nil || no {
		return nil, "gauge-swapped-after", false, err
	}
	if before, err = d.litBefore(cause, c); err != nil {
		return nil, "", false, err
	}
	var pot Pot
	if err := d.read(func(src register.Source) { pot = potOf(src, c.Begun.Sterilizer).with(src, x.Gauge) }); err != nil {
		return nil, "", false, err
	}
	if slices.ContainsFunc(c.Readings, func(r model.Reading) bool { return r.NeedleMilli > pot.Gauge.SpanMilli }) && !pot.TwoDials { // that dial cannot have shown it
		return nil, "gauge-swapped-after", false, nil
	}
	code = "gauge-swapped"
	if before {
		code = "gauge-swapped-after"
	}
	if pot.TwoDials || pot.Gauge.Unit != c.Begun.Plan.Unit { // what was read is of another dial
		if before { // nothing stands by that one
			return nil, code, true, nil
		}
		return nil, "", false, nil
	}
	f, ok, err := d.foundNow(pot, pot.Gauge.Unit, pot.Gauge.SpanMilli, math.MaxInt32) // its lines are another dial's
	if err != nil || !ok {
		return nil, "", false, err
	}
	return []assess.Found{f}, code, before, nil
}

// surelyAfter says whether a load had surely been lit when it was told that another gauge was on its pot; or that word was denied since.
func (d *Desk) surelyAfter(told entry.Verified, c register.Cycle) (bool, error) {
	if no, err := d.deniedSince(told, c.Begun.Sterilizer, c.Begun.Gauge); err != nil || no {
		return no, err
	}
	return d.litBefore(told, c)
}

// litBefore says whether a load was lit before another gauge came on its pot, by the dates.
func (d *Desk) litBefore(told entry.Verified, c register.Cycle) (bool, error) {
	on, known, err := d.onSince(told)
	if err != nil || !known {
		return false, err
	}
	lit, known, err := d.Began(c)
	return known && on.After(lit.Add(gaugeSlack)), err
}

// cameLater says whether a load is in doubt by what was found of a gauge that surely came on its pot after it was lit.
func (d *Desk) cameLater(c register.Cycle, h register.Hold) (bool, error) {
	if h.Code != register.HoldGauge || ofGauge(h.Cause, c.Begun.Gauge) {
		return false, nil
	}
	later := false
	for _, x := range c.State.Holds {
		var s model.Sterilizer
		if x.Code != register.HoldSwapped || x.Cause.Body().Decode(&s) != nil || !ofGauge(h.Cause, s.Gauge) {
			continue
		}
		after, err := d.surelyAfter(x.Cause, c)
		if err != nil || !after {
			return false, err
		}
		later = true
	}
	return later, nil
}
