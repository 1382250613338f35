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

// A dial that was described wrongly, and is put right: what was read off it by then meant another pressure, or may be off by more than was allowed for.

// overRead is by how much more, Pa at the end of its scale, a dial was ever said to show, or how much less it was said to be off, than is said now. What says of it what stands says nothing new.
func overRead(src register.Source, gauge model.ID, standing []entry.ID, now model.GaugeLooks) (most int64) {
	changed := false
	for _, v := range register.TargetingKind(src, model.Ref{Noun: model.NounGauge, ID: gauge}, model.KindGauge) {
		var was model.GaugeLooks
		if v.Body().Decode(&was) != nil || !src.Roster().Known(v) {
			continue
		}
		changed = changed || (slices.Contains(standing, v.ID()) && (was.Unit != now.Unit || was.SpanMilli != now.SpanMilli || was.LineMilli != now.LineMilli))
		r := shownAs(was.Unit, was.SpanMilli, now)
		over := max(0, plateError(now)/max(r, 1)-plateError(was)) // where a figure means more than was counted, it may be off by that much more
		if r < 1 {
			over += (1 - r) * float64(steam.Unit(was.Unit).Over(float64(was.SpanMilli)/1000))
		}
		most = max(most, int64(math.Ceil(over-1e-6)))
	}
	if !changed {
		return 0
	}
	return most
}

// plateError is what a dial as it is described may be off, Pa: the worst class of its span, and half a line. Its own class never makes a mark lower: what nobody compared counts as the worst, and what was compared by that.
func plateError(g model.GaugeLooks) float64 {
	return float64(steam.Unit(g.Unit).Over(steam.WorstClass/100.0*float64(g.SpanMilli)/1000 + float64(g.LineMilli)/2000))
}

// shownAs is how much of the pressure that a figure was taken for there is by the dial as it is described now. Figures of units of like size (bar and kgf/cm2) were read as they stand; of others the needle's place on
// the scale was, since nobody reads 120 off a dial that ends at 2.5.
func shownAs(unit string, span int64, now model.GaugeLooks) float64 {
	was, is := steam.Unit(unit).Pascals(), steam.Unit(now.Unit).Pascals()
	if was == 0 || is == 0 || span <= 0 {
		return 0
	}
	if r := is / was; r > 0.5 && r < 2 {
		return r
	}
	return is * float64(now.SpanMilli) / (was * float64(span))
}

// byDialNow is what is known now of the dial that a load was planned by. ok is false where nobody can tell which dial it is.
func (d *Desk) byDialNow(c register.Cycle) (f assess.Found, ok bool, err error) {
	var pot Pot
	if err := d.read(func(src register.Source) { pot = potOf(src, c.Begun.Sterilizer).with(src, c.Begun.Gauge) }); err != nil || pot.TwoDials {
		return f, false, err
	}
	return d.foundNow(pot, c.Begun.Plan.Unit, c.Begun.Plan.SpanMilli, steam.Over(c.Begun.Plan.ReadingPa))
}

// foundNow is what is known now of the gauge of a pot, in figures of a dial of a unit and a scale: what it shows otherwise than was said, what was found of it, and else what its class may hide. What its lines hide counts
// beyond what was counted. ok is false where one of the two dials is not known.
func (d *Desk) foundNow(pot Pot, unit string, span int64, counted steam.Over) (f assess.Found, ok bool, err error) {
	r := shownAs(unit, span, pot.Gauge)
	if r <= 0 {
		return f, false, nil
	}
	rules, err := d.Rules()
	if err != nil {
		return f, false, err
	}
	g, err := d.gauge(pot, rules)
	if err != nil {
		return f, false, err
	}
	was := steam.Unit(unit)
	asWas := was.Pascals() * r / steam.Unit(pot.Gauge.Unit).Pascals() // a figure then, as one of the dial now
	up := func(v float64) int64 { return int64(math.Ceil(v*1000 - 1e-6)) }
	f = assess.Found{Unit: unit, ReferenceMilli: up(was.Of(g.Error() + max(0, g.ReadingError()-counted)))}
	at := []int64{0, span}
	for _, k := range g.Corrections {
		at = append(at, int64(math.Round(k.At*1000/asWas)))
	}
	slices.Sort(at)
	for _, milli := range slices.Compact(at) {
		shown := float64(milli) / 1000
		truth := was.Of(g.True(shown * asWas)) // overdue, or by somebody whose word counts no more: what it shows too little is not counted
		f.Points = append(f.Points, model.FrozenCorrection{AtMilli: milli, ErrorMilli: up(shown - truth)})
	}
	return f, true, nil
}
