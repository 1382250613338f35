package work

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
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
	if before, err = d.surelyAfter(cause, c); err != nil {
		return nil, "", false, err
	}
	rules, err := d.Rules()
	if err != nil {
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
	f, err := d.foundNow(pot, rules)
	return []assess.Found{f}, code, before, err
}

// foundNow is what is known now of the gauge of a pot; where nobody compared it, what its class may hide.
func (d *Desk) foundNow(pot Pot, rules model.Policies) (f assess.Found, err error) {
	g, err := d.gauge(pot, rules)
	if err != nil {
		return f, err
	}
	up := func(v float64) int64 { return int64(math.Ceil(v*1000 - 1e-6)) }
	f = assess.Found{Unit: pot.Gauge.Unit, ReferenceMilli: up(g.Unit.Of(g.Error()))}
	for _, k := range g.Corrections {
		e := k.Error
		if g.Standing != steam.Compared { // overdue, or by somebody whose word counts no more: what it shows too little is not counted
			e = max(e, 0)
		}
		f.Points = append(f.Points, model.FrozenCorrection{AtMilli: up(k.At), ErrorMilli: up(e)})
	}
	if len(f.Points) == 0 { // nobody compared it: it may show its class too much
		f.Points = []model.FrozenCorrection{{AtMilli: pot.Gauge.SpanMilli}}
	}
	return f, nil
}

// surelyAfter says whether a load had surely been lit when it was told that another gauge was on its pot; or that word was denied since.
func (d *Desk) surelyAfter(told entry.Verified, c register.Cycle) (bool, error) {
	if no, err := d.deniedSince(told, c.Begun.Sterilizer, c.Begun.Gauge); err != nil || no {
		return no, err
	}
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
