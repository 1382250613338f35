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
	two      bool             // of one of them nobody knows which gauge is on it
}

// thenAt is a moment at a clinic.
type thenAt struct {
	site model.ID
	at   time.Time
}

// told says whether something was told of at a clinic by a moment.
func (d *Desk) told(m thenAt, v entry.Verified) bool { return !d.toldBy(m.site, v).After(m.at) }

// sinceAt looks back from a moment, by the clocks of a clinic's devices, which may stand ahead by some slack.
func (d *Desk) sinceAt(site model.ID, own []entry.Stream, end time.Time, slack time.Duration) (s since, err error) {
	s = since{negative: -1, compared: -1}
	if len(own) == 0 {
		return s, nil
	}
	if s.pots, err = d.Store.ByKind(model.KindSterilizer, own...); err != nil {
		return s, d.unread(err)
	}
	m := thenAt{site, end.Add(slack)}
	var tested, compared []time.Time
	for _, p := range d.potsThen(s.pots, m) {
		s.two = s.two || p.two
		t, err := d.lastProved(p.ID, own, m)
		if err != nil {
			return s, err
		}
		c, again, err := d.lastComparedBy(p.Gauge, own, m)
		if err != nil {
			return s, err
		}
		at := time.Time{}
		if !c.IsZero() {
			at, s.by = d.toldBy(site, c), append(s.by, c)
		}
		tested, compared, s.by = append(tested, t), append(compared, at), append(s.by, again...)
	}
	longest := func(when []time.Time) (days int) {
		days = -1
		for _, at := range when {
			if at.IsZero() {
				return -1
			}
			days = max(days, int(end.Sub(at).Hours()/24), 0)
		}
		return days
	}
	s.negative, s.compared = longest(tested), longest(compared)
	return s, nil
}

// toldBy is when something was told of at a clinic, by its device's clock, less what that stood ahead at the stick that brought it, and not after the day of that stick: a clock that stood
// ahead makes nothing younger.
func (d *Desk) toldBy(site model.ID, v entry.Verified) time.Time {
	at := time.UnixMilli(v.Body().Wall)
	came, last, err := d.Store.CameBy(site, v.ID())
	if err != nil || came.IsZero() { // an unreadable register is told elsewhere
		return at
	}
	came = came.AddDate(0, 0, 1) // the end of that day
	if ahead := time.UnixMilli(last.Body().Wall).Sub(came); ahead > 0 {
		at = at.Add(-ahead)
	}
	if at.After(came) {
		return came
	}
	return at
}

// potThen is a pot with the gauge that was on it at a moment; none, where several may have been.
type potThen struct {
	ID, Gauge model.ID
	two       bool
}

// potsThen are the pots of a clinic, by what had been said of them before a moment.
func (d *Desk) potsThen(told []entry.Verified, m thenAt) (out []potThen) {
	by := map[model.ID][]entry.Verified{}
	for _, v := range told {
		if !d.told(m, v) || !d.mayTell(v) {
			continue
		}
		for _, ref := range v.Body().Refs() {
			if ref.Noun == model.NounSterilizer {
				by[ref.ID] = append(by[ref.ID], v)
			}
		}
	}
	for id, said := range by {
		pot, first := potThen{ID: id}, true
		for _, v := range register.Unreplaced(said) { // what was said at once stands beside the other
			var x model.Sterilizer
			switch {
			case v.Body().Decode(&x) != nil:
			case first:
				pot.Gauge, first = x.Gauge, false
			case x.Gauge != pot.Gauge:
				pot.Gauge, pot.two = model.ID{}, true
			}
		}
		out = append(out, pot)
	}
	return out
}

// lately is what some devices told of a kind before a moment, newest first, at most so many.
func (d *Desk) lately(k model.Kind, most int, own []entry.Stream, m thenAt) ([]entry.Verified, error) {
	n := 0
	vs, err := d.Store.LatestWhile(k, func(v entry.Verified) bool { // nothing of the store is asked while it reads
		if v.Body().Wall <= m.at.UnixMilli() {
			n++
		}
		return n <= most
	}, own...)
	if err != nil {
		return nil, d.unread(err)
	}
	return slices.DeleteFunc(vs, func(v entry.Verified) bool { return !d.told(m, v) }), nil
}

// lastProved is when a pot was last proved by a spore test that was read as a valid negative by a moment; zero: none is among the latest.
func (d *Desk) lastProved(pot model.ID, own []entry.Stream, m thenAt) (at time.Time, err error) {
	for seen, most := 0, 2; most <= agoLately && at.IsZero(); seen, most = most, most*5 { // nearly always it is the newest that was read
		placed, err := d.lately(model.KindSporePlaced, most, own, m)
		if err != nil {
			return at, err
		}
		for _, v := range placed[min(seen, len(placed)):] {
			var p model.SporePlaced
			if v.Body().Decode(&p) != nil || p.Pot != pot || !d.provedNegative(v, m) {
				continue
			}
			on, _, err := d.provedOn(p, d.toldBy(m.site, v))
			if err != nil {
				return at, err
			}
			if on.After(at) {
				at = on
			}
		}
	}
	return at, nil
}

// provedOn is the day that a spore test proves something of: when it was laid in, or where its cycle was typed in from paper, that cycle's. known is false where nobody knows.
func (d *Desk) provedOn(p model.SporePlaced, laid time.Time) (at time.Time, known bool, err error) {
	c, err := d.beginning(p.Cycle)
	if isRefusal(err, "no-such-cycle") {
		return laid, true, nil
	}
	if err != nil || c.Begun.Source != model.FromPaper {
		return laid, true, err
	}
	lit, known, err := d.Began(c)
	if lit.Before(laid) {
		return lit, known, err
	}
	return laid, known, err
}

// lastComparedBy is the last comparison of a gauge that nobody took back; its zero value: none is among the latest. again are what was said of earlier ones since, whose reference was found wrong: that is no
// comparison, but what it says the gauge is off by counts.
func (d *Desk) lastComparedBy(gauge model.ID, own []entry.Stream, m thenAt) (found entry.Verified, again []entry.Verified, err error) {
	told, err := d.lately(model.KindCompared, agoLately, own, m)
	if err != nil {
		return found, nil, err
	}
	gone := register.TakenBack(told, d.mayTell)
	for _, v := range told {
		c, ok := comparedIn(v)
		if !ok || c.takesBack() || !d.mayTell(v) || gone[v.ID()] != nil || !ofGauge(v, gauge) {
			continue
		}
		if len(c.Restates) == 0 {
			return v, again, nil
		}
		again = append(again, v)
	}
	return found, again, nil
}

// provedNegative says whether a spore test was laid in by an entry, and read as a valid negative by a moment.
func (d *Desk) provedNegative(placed entry.Verified, m thenAt) bool {
	return slices.ContainsFunc(placed.Body().Refs(), func(r model.Ref) bool {
		if r.Noun != model.NounTest {
			return false
		}
		t, err := d.sporeSaid(r.ID) // one that is claimed by a device that is not known here says nothing
		return err == nil && t.Said == model.SporeNegative && d.told(m, t.ReadBy)
	})
}
