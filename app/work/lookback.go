package work

import (
	"math"
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Looking back: what a comparison, or an altitude that was put right, says of loads already made. The fold holds them in doubt by itself; here each is judged again by what is known
// now. What still stands is cleared by name, the rest is called back. What was judged before stays beside it.

// LookedBack is a load in doubt with both verdicts.
type LookedBack struct {
	Cycle  register.Cycle
	ID     model.ID
	Was    model.Judged
	Now    assess.Result
	Stands bool       // the readings show it all the same
	Called bool       // a recall that is not over is about it: it is answered for there
	Dates  bool       // it stands if it was lit before another gauge came on, as the dates say: somebody is to answer for these
	unread bool       // something of it cannot be judged
	holds  []entry.ID // that put it in doubt
	causes []entry.ID
	Codes  []string
	Causes []FoundOut
}

// FoundOut is what was found out after a load was run.
type FoundOut struct {
	Code string  // gauge: showed too much; altitude: needs more
	Off  float64 // by how much, at the need; of an altitude, the need. In the unit of Unit
	Unit string
	When time.Time // zero: the date is in doubt
}

// Patients says whether the people it was used on are listed: the guaranteed dose, of what is known now, does not reach what the district asks for, or cannot be bounded.
func (l LookedBack) Patients() bool {
	return l.unread || l.Now.Guaranteed == nil || *l.Now.Guaranteed*1000 < float64(l.Cycle.Begun.Plan.DoseMilli)
}

// Unread says that something of what was found out cannot be judged: nothing stands by it.
func (l LookedBack) Unread() bool { return l.unread }

// Next is the catalogue's word for what is to be done about a load in doubt; "": nothing but to free it.
func (l LookedBack) Next() string {
	switch {
	case l.Called: // also of one that stands: a recall holds it all the same
		return "lookback.called"
	case l.Dates:
		return "lookback.dates"
	case l.Stands:
		return ""
	case l.Patients():
		return "lookback.patients"
	}
	return "recall.shelf-only"
}

// InDoubt lists the loads of a pot that something found out later puts in doubt, oldest first, each judged anew.
func (d *Desk) InDoubt(pot model.ID) (out []LookedBack, err error) {
	called, err := d.calledBack(pot)
	if err != nil {
		return nil, err
	}
	ids, err := d.Store.OpenCyclesOf(pot)
	if err != nil {
		return nil, d.unread(err)
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		if !c.State.Doubted() || c.Aborted() || len(c.Rejected) > 0 {
			continue
		}
		l, err := d.LookBack(id)
		if err != nil {
			return nil, err
		}
		l.Called = called[id]
		out = append(out, l)
	}
	return out, nil
}

// LookBack judges a load by everything that was found out of its gauge and altitude since: corrections come in any order, and the worst of each counts.
func (d *Desk) LookBack(id model.ID) (l LookedBack, err error) {
	c, err := d.Cycle(id)
	if err != nil {
		return l, err
	}
	l = LookedBack{Cycle: c, ID: id}
	before, err := d.Judge(c)
	if err != nil {
		return l, err
	}
	l.Was = before.Judged
	for _, v := range c.Released {
		var r model.Release
		if v.Body().Decode(&r) == nil { // as the release saw it
			l.Was = r.Judged
		}
	}
	found := []assess.Found{{}}
	var dated []assess.Found // by gauges that came on after it, as the dates say
	datedUnread := false     // what one of these showed cannot be told
	var heights []assess.Found
	unread := false
	for _, h := range c.State.Holds {
		if !slices.Contains(register.Doubts, h.Code) {
			continue
		}
		l.holds, l.causes = append(l.holds, h.ID), append(l.causes, h.Cause.ID())
		if h.Open() {
			l.Codes = append(l.Codes, h.Code)
		}
		var x model.Compared
		var s model.Site
		what := FoundOut{Code: "unread", Unit: c.Begun.Plan.Unit}
		if at, known, err := d.Corrected(h.Cause); err == nil && known {
			what.When = at
		}
		u := steam.Unit(c.Begun.Plan.Unit)
		switch {
		case h.Code == register.HoldGauge && h.Cause.Body().Kind == model.KindReference:
			var r model.Reference
			what.Code = "reference"
			if h.Cause.Body().Decode(&r) == nil {
				what.Off = u.Of(steam.Over(r.OffPa))
			}
		case h.Code == register.HoldGauge && h.Cause.Body().Decode(&x) == nil:
			what.Code, what.Off = "gauge", u.Of(steam.Over(x.WorstPa))
		case h.Code == register.HoldHeight && h.Cause.Body().Decode(&s) == nil:
			what.Code, what.Off = "altitude", u.Of(steam.Over(s.RaisedPa))
		}
		if h.Code == register.HoldSwapped {
			on, said, before, err := d.swapped(c, h.Cause)
			if err != nil {
				return l, err
			}
			if what.Code = said; said == "" {
				what.Code, unread = "unread", true
			}
			if l.Causes = append(l.Causes, what); before {
				dated, datedUnread = append(dated, on...), datedUnread || len(on) == 0
			} else {
				found = append(found, on...)
			}
			continue
		}
		if h.Code == register.HoldDial && !ofGauge(h.Cause, c.Begun.Gauge) { // of one that was on as well: it is judged by that dial as it is described now
			what.Code = "dial"
			l.Causes = append(l.Causes, what)
			continue
		}
		if h.Code == register.HoldDial {
			on, ok, err := d.byDialNow(c)
			if err != nil {
				return l, err
			}
			if what.Code, unread = "dial", unread || !ok; slices.Contains(c.Entry.Body().Relies, h.Cause.ID()) { // it was not put right: who described it was taken out
				what.Code = "planned"
			}
			l.Causes, found = append(l.Causes, what), append(found, on)
			continue
		}
		on, at, said, known, err := d.plannedNow(c, h)
		if err != nil {
			return l, err
		}
		if said != "" {
			what.Code, what.Off, unread = said, 0, unread || !known
			l.Causes, found, heights = append(l.Causes, what), append(found, on...), append(heights, at...)
			continue
		}
		if off, err := d.cameLater(c, h); err != nil {
			return l, err
		} else if off { // what was found of a gauge that came on after it says nothing of it
			what.Code, what.Off = "gauge-swapped-after", 0
			l.Causes = append(l.Causes, what)
			continue
		}
		l.Causes = append(l.Causes, what)
		if h.Cause.Body().Kind == model.KindReference { // its comparisons were made with it
			var off []model.Compared
			back := false
			if err := d.read(func(src register.Source) {
				off, back = offBy(src, c, h.Cause), register.PutBack(src, h.Cause)
			}); err != nil {
				return l, err
			}
			if back { // nothing was wrong
				l.Causes[len(l.Causes)-1].Code = "reference-back"
				continue
			}
			unread = unread || len(off) == 0
			for _, y := range off {
				f, ok := foundBy(y)
				if !ok {
					unread = true
					continue
				}
				found = append(found, f)
			}
			continue
		}
		var instead, by []entry.Verified
		if err := d.read(func(src register.Source) { instead, by = countsInstead(src, h.Cause) }); err != nil {
			return l, err
		}
		for _, v := range append(slices.Clone(by), instead...) {
			l.causes = append(l.causes, v.ID())
		}
		for _, v := range instead { // it was taken back: what is found by those that count
			y, _ := d.comparedNow(v)
			l.Causes[len(l.Causes)-1].Code = "withdrawn"
			f, ok := foundBy(y.Compared)
			if !ok {
				unread = true
				continue
			}
			found = append(found, f)
		}
		now, _ := d.comparedNow(h.Cause)
		f, good := foundBy(now.Compared)
		switch {
		case len(instead) > 0:
		case h.Code == register.HoldGauge && good:
			found = append(found, f)
		case h.Code == register.HoldHeight && h.Cause.Body().Decode(&s) == nil:
			f, err := foundHeight(s)
			if err != nil {
				return l, err
			}
			heights = append(heights, f)
		default: // it says that something is wrong, and not what: nothing stands by it
			unread = true
		}
	}
	if len(l.holds) == 0 {
		l.Now = before
		return l, nil
	}
	if len(heights) > 0 { // with a higher need also what was found of its gauge and put nothing in doubt by the lower one
		if err := d.read(func(src register.Source) { found = append(found, foundSince(src, c)...) }); err != nil {
			return l, err
		}
	}
	l.Stands, l.unread = !unread, unread
	l.judge(d.input(c), combined(found, heights), before)
	if l.Stands && len(dated) > 0 {
		l.judge(d.input(c), combined(append(found, dated...), heights), before)
		l.Dates = !l.Stands
	}
	if l.Stands && datedUnread {
		l.Stands, l.Dates, l.Now.Guaranteed = false, true, nil
	}
	return l, nil
}

// combined are findings of the gauge, and those of the altitude alone and with each of these. The first is no finding.
func combined(found, heights []assess.Found) []assess.Found {
	all := slices.Clone(found)
	for _, h := range heights {
		for _, f := range found {
			f.NeedPa, f.NominalPa, f.LowPa, f.HighPa = h.NeedPa, h.NominalPa, h.LowPa, h.HighPa
			all = append(all, f)
		}
	}
	return all
}

// judge judges a load by each of some findings, the first of which is none: the worst counts, and the least that any of them guarantees, which need not be the one with the highest line.
func (l *LookedBack) judge(in assess.Input, all []assess.Found, before assess.Result) {
	if len(all) == 1 {
		l.Now, l.Stands = before, l.Stands && before.Verdict == model.Shown
		return
	}
	var least *float64
	for i, f := range all[1:] {
		r := judged(assess.LookBack(in, f))
		stands := r.Verdict == model.Shown
		if i == 0 || (l.Stands && !stands) || (l.Stands == stands && r.Line > l.Now.Line) {
			l.Now = r
		}
		least = leastOf(i == 0, least, r.Guaranteed)
		l.Stands = l.Stands && stands
	}
	l.Now.Guaranteed = least
}

// foundSince is what was found of a load's gauges that whoever lit it did not know of, and that no comparison between vouches against.
func foundSince(src register.Source, c register.Cycle) (out []assess.Found) {
	for _, gauge := range register.GaugesOf(src, c) {
		about := register.TargetingKind(src, model.Ref{Noun: model.NounGauge, ID: gauge}, model.KindCompared)
		back := register.TakenBack(about, src.Roster().Known)
		for _, w := range about {
			x, ok := comparedNow(src, w)
			f, good := foundBy(x.Compared)
			if !ok || !good || x.takesBack() || back[w.ID()] != nil || !src.Roster().Known(w) || slices.Contains(c.Entry.Body().Relies, w.ID()) ||
				register.Covers(src, register.WindowOf(src, w, x.Compared, about, back), c.Entry) {
				continue
			}
			out = append(out, f)
		}
	}
	return out
}

// foundBy is what a comparison says of its gauge; ok is false where it says nothing, or not in which unit.
func foundBy(c model.Compared) (f assess.Found, ok bool) {
	if c.Gauge == nil || len(c.Points) == 0 {
		return f, false
	}
	return assess.Found{Points: c.Points, ReferenceMilli: c.ReferenceMilli, Unit: c.Gauge.Unit}, true
}

// foundHeight is what a load is judged by at an altitude.
func foundHeight(s model.Site) (f assess.Found, err error) {
	air, err := Air(s).Air()
	if err != nil {
		return f, wrap(err, "altitude")
	}
	n, err := need(s)
	return assess.Found{NeedPa: int64(math.Ceil(float64(n) - 1e-9)), NominalPa: int64(math.Round(float64(air.Nominal))), LowPa: int64(math.Floor(float64(air.Low))), HighPa: int64(math.Ceil(float64(air.High)))}, err
}

// leastOf is the smaller of two guaranteed doses; one that is not bounded is the least.
func leastOf(first bool, a, b *float64) *float64 {
	if first || (a != nil && (b == nil || *b < *a)) {
		return b
	}
	return a
}
