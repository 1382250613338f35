package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// agoLately is how many spore tests and comparisons of a clinic are gone through for the last that counts.
const agoLately = 50

// since is how many days before a moment a clinic's pots were last proved, and their gauges compared. Of several pots the one of which that is longest ago counts: one that is tested says
// nothing of another. -1: of one of them there is none.
type since struct {
	negative int // days since the last valid negative test was laid in, among those read by then
	compared int
	by       []entry.Verified // those comparisons
	pots     []entry.Verified // what was said of the clinic's pots
}

// sinceAt looks back from a moment, by the clocks of a clinic's devices, which may stand ahead by some slack.
func (d *Desk) sinceAt(own []entry.Stream, end time.Time, slack time.Duration) (s since, err error) {
	s = since{negative: -1, compared: -1}
	if len(own) == 0 {
		return s, nil
	}
	if s.pots, err = d.Store.ByKind(model.KindSterilizer, own...); err != nil {
		return s, d.unread(err)
	}
	before := func(v entry.Verified) bool { return v.Body().Wall <= end.Add(slack).UnixMilli() }
	var tested, found []entry.Verified
	for _, p := range d.potsThen(s.pots, before) {
		t, err := d.lastProved(p.ID, own, before)
		if err != nil {
			return s, err
		}
		c, err := d.lastComparedBy(p.Gauge, own, before)
		if err != nil {
			return s, err
		}
		tested, found = append(tested, t), append(found, c)
	}
	longest := func(vs []entry.Verified) (days int) {
		days = -1
		for _, v := range vs {
			if v.IsZero() {
				return -1
			}
			days = max(days, int(end.Sub(time.UnixMilli(v.Body().Wall)).Hours()/24), 0)
		}
		return days
	}
	s.negative, s.compared = longest(tested), longest(found)
	s.by = slices.DeleteFunc(found, entry.Verified.IsZero)
	return s, nil
}

// potThen is a pot with the gauge that was on it at a moment.
type potThen struct{ ID, Gauge model.ID }

// potsThen are the pots of a clinic, by what had been said of them before a moment.
func (d *Desk) potsThen(told []entry.Verified, before func(entry.Verified) bool) (out []potThen) {
	for _, v := range slices.SortedStableFunc(slices.Values(told), entry.Less) {
		var x model.Sterilizer
		if !before(v) || !d.mayTell(v) || v.Body().Decode(&x) != nil {
			continue
		}
		for _, ref := range v.Body().Refs() {
			if ref.Noun != model.NounSterilizer {
				continue
			}
			i := slices.IndexFunc(out, func(p potThen) bool { return p.ID == ref.ID })
			if i < 0 {
				i, out = len(out), append(out, potThen{ID: ref.ID})
			}
			out[i].Gauge = x.Gauge // what was said last
		}
	}
	return out
}

// lately is what some devices told of a kind before a moment, newest first, at most so many.
func (d *Desk) lately(k model.Kind, most int, own []entry.Stream, before func(entry.Verified) bool) ([]entry.Verified, error) {
	n := 0
	vs, err := d.Store.LatestWhile(k, func(v entry.Verified) bool {
		if before(v) {
			n++
		}
		return n <= most
	}, own...)
	if err != nil {
		return nil, d.unread(err)
	}
	return slices.DeleteFunc(vs, func(v entry.Verified) bool { return !before(v) }), nil
}

// lastProved is what laid the last spore test into a pot that was read as a valid negative by a moment; its zero value: none is among the latest.
func (d *Desk) lastProved(pot model.ID, own []entry.Stream, before func(entry.Verified) bool) (found entry.Verified, err error) {
	for seen, most := 0, 2; most <= agoLately; seen, most = most, most*5 { // nearly always it is the newest that was read
		placed, err := d.lately(model.KindSporePlaced, most, own, before)
		if err != nil {
			return found, err
		}
		for _, v := range placed[min(seen, len(placed)):] {
			var p model.SporePlaced
			if v.Body().Decode(&p) == nil && p.Pot == pot && d.provedNegative(v, before) {
				return v, nil
			}
		}
	}
	return found, nil
}

// lastComparedBy is the last comparison of a gauge that nobody took back; its zero value: none is among the latest.
func (d *Desk) lastComparedBy(gauge model.ID, own []entry.Stream, before func(entry.Verified) bool) (found entry.Verified, err error) {
	told, err := d.lately(model.KindCompared, agoLately, own, before)
	if err != nil {
		return found, err
	}
	gone := register.TakenBack(told, d.mayTell)
	for _, v := range told {
		if c, ok := comparedIn(v); ok && !c.takesBack() && d.mayTell(v) && gone[v.ID()] == nil && ofGauge(v, gauge) {
			return v, nil
		}
	}
	return found, nil
}

// provedNegative says whether a spore test was laid in by an entry, and read as a valid negative by a moment.
func (d *Desk) provedNegative(placed entry.Verified, by func(entry.Verified) bool) bool {
	return slices.ContainsFunc(placed.Body().Refs(), func(r model.Ref) bool {
		if r.Noun != model.NounTest {
			return false
		}
		t, err := d.sporeSaid(r.ID) // one that is claimed by a device that is not known here says nothing
		return err == nil && t.Said == model.SporeNegative && by(t.ReadBy)
	})
}
