package work

import (
	"math"
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Comparing the gauge with a reference: what the marks rest on.

// CompareForm is a gauge beside a reference: what both show at two points, cold, with air from a pump or the pot empty.
type CompareForm struct {
	Points []ComparePoint
	With   model.ID // the reference gauge
	Cold   bool     // both cold, side by side, tapped before reading
}

// ComparePoint is what stood on both dials.
type ComparePoint struct{ Shown, True float64 }

// Compare records a comparison. It takes the class's place in every later plan; loads whose plan allowed for less than it found are in doubt by it.
func (d *Desk) Compare(pot Pot, site model.Site, f CompareForm) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	c, err := d.compared(pot, site, f)
	if err != nil {
		return err
	}
	st, err := d.noun(model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
	if err != nil {
		return err
	}
	var before []entry.ID // those that this one was made in knowledge of
	for _, v := range st.Entries {
		if v.Body().Kind == model.KindCompared {
			before = append(before, v.ID())
		}
	}
	c.Gauge = &pot.Gauge
	if err := d.inPast(pot, &c); err != nil {
		return err
	}
	var known []entry.ID // what was said of the reference
	if err := d.read(func(src register.Source) {
		for _, v := range register.TargetingKind(src, model.Ref{Noun: model.NounReference, ID: f.With}, model.KindReference) {
			known = append(known, v.ID())
		}
	}); err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindCompared, Payload: c, Relies: known[max(0, len(known)-200):], Replaces: before[max(0, len(before)-200):],
		Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}, {Noun: model.NounSterilizer, ID: pot.ID}, {Noun: model.NounReference, ID: f.With}}})
	return err
}

// CheckCompare says what of a comparison cannot be, before anybody is asked to answer for it, and how many loads it puts in doubt.
func (d *Desk) CheckCompare(pot Pot, site model.Site, f CompareForm) (inDoubt int, err error) {
	c, err := d.compared(pot, site, f)
	if err != nil {
		return 0, err
	}
	return d.doubtedBy(pot, c)
}

// compared works a comparison out. It must hold: two points, one of them near the mark, and a reference that is not bettered by wishing.
func (d *Desk) compared(pot Pot, site model.Site, f CompareForm) (c model.Compared, err error) {
	u, span := steam.Unit(pot.Gauge.Unit), float64(pot.Gauge.SpanMilli)/1000
	if !f.Cold {
		return c, refuse("compare-cold")
	}
	if len(f.Points) < 2 {
		return c, refuse("compare-points")
	}
	with, err := d.reference(f.With)
	if err != nil {
		return c, err
	}
	off, err := with.offBy(u)
	if err != nil {
		return c, err
	}
	off = max(off, span*leastReference) // nothing is read finer than that beside this dial
	if off > span*0.04 {
		return c, refuse("compare-reference", with.Name, short(off), short(span*0.04), string(u))
	}
	if site, err = d.unsettled(site); err != nil {
		return c, err
	}
	air, err := Air(site).Air()
	if err != nil {
		return c, wrap(err, "altitude")
	}
	need, err := steam.Need(121, air)
	if err != nil {
		return c, wrap(err, "altitude")
	}
	mark, near, low := u.Of(need), false, math.Inf(1)
	for _, p := range f.Points {
		if !(p.Shown >= 0 && p.Shown <= span && p.True >= 0 && p.True <= span*1.2) {
			return c, refuse("needle-off-dial", short(p.Shown), short(span), string(u))
		}
		if math.Abs(p.Shown-p.True) > span*worstError {
			return c, refuse("gauge-worthless", short(p.Shown-p.True), string(u))
		}
		near = near || math.Abs(p.True-mark) <= mark*0.2
		low = min(low, p.True)
	}
	if !near || low > mark*0.6 {
		return c, refuse("compare-where", short(math.Round(mark)), string(u))
	}
	slices.SortFunc(f.Points, func(a, b ComparePoint) int { return int(math.Copysign(1, a.Shown-b.Shown)) })
	if err := agree(f.Points, span, pot.Gauge.ClassMilli, off, string(u)); err != nil {
		return c, err
	}
	c = model.Compared{ReferenceMilli: int64(math.Ceil(off*1000 - 1e-6)), Reference: f.With, At: d.Clock.Now().Wall.UnixMilli()}
	for _, p := range f.Points {
		c.Points = append(c.Points, model.FrozenCorrection{AtMilli: int64(math.Round(p.Shown * 1000)), ErrorMilli: int64(math.Ceil((p.Shown-p.True)*1000 - 1e-6))})
	}
	return c, nil
}

// agree refuses points that contradict each other, and a gauge that shows less than is there by more than its class: the mark would
// come down by it, and columns taken for each other look just so.
func agree(ps []ComparePoint, span float64, classMilli int64, reference float64, unit string) error {
	class := float64(max(classMilli, 1600)) / 1000 / 100 * span
	for i, p := range ps {
		if i > 0 && (p.Shown <= ps[i-1].Shown || p.True <= ps[i-1].True) {
			return refuse("compare-contradiction", short(ps[i-1].Shown), short(p.Shown), unit)
		}
		if i > 0 && math.Abs((p.Shown-p.True)-(ps[i-1].Shown-ps[i-1].True)) > 2*class+2*reference {
			return refuse("compare-contradiction", short(ps[i-1].Shown), short(p.Shown), unit)
		}
		if i > 0 && math.Abs((p.Shown-p.True)-(ps[i-1].Shown-ps[i-1].True)) >= p.Shown-ps[i-1].Shown {
			return refuse("compare-contradiction", short(ps[i-1].Shown), short(p.Shown), unit)
		}
		if p.True-p.Shown > class+reference {
			return refuse("compare-swapped", short(p.True-p.Shown), unit)
		}
	}
	return nil
}

// Limits of a comparison, as shares of the span: no reference at a clinic is better than a quarter of a per cent, and a gauge that is off
// by a tenth of its dial is to be replaced, not corrected (common practice, no source).
const (
	leastReference = 0.0025
	worstError     = 0.10
)

// LastCompared is when the gauge of a pot was last compared; ok is false where it never was.
func (d *Desk) LastCompared(pot Pot) (at time.Time, ok bool, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
	gone := register.TakenBack(st.Entries, d.allows)
	for _, v := range st.Entries {
		if c, said := comparedIn(v); said && !c.takesBack() && d.allows(v) && gone[v.ID()] == nil {
			at, ok = time.UnixMilli(c.At), true
		}
	}
	return at, ok, err
}
