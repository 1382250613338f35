package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Which gauge was on a pot at a moment: told by what was said of the pot, and when. A slip that is typed in later is judged by the gauge that was watched, not by the one that has come on since.

// gaugeOf is a pot with the gauge that a slip was run by. Where two may have been on it, whoever types in says which: the one who stood at the fire knows.
func (d *Desk) gaugeOf(pot Pot, s Slip) (Pot, error) {
	then, err := d.GaugesThen(pot, s.Lit)
	if err != nil {
		return pot, err
	}
	if s.Gauge.IsZero() {
		if len(then) != 1 {
			return pot, refuse("slip-which-gauge")
		}
		return then[0], nil
	}
	for _, p := range then {
		if p.Looks.Gauge == s.Gauge {
			return p, nil
		}
	}
	return pot, refuse("slip-gauge-not-then")
}

// GaugesThen is a pot with each gauge that may have been on it at a moment, at least one. A change is told of within a day (common practice, no source), or nobody knows when it was: so two may have been.
func (d *Desk) GaugesThen(pot Pot, at time.Time) (out []Pot, err error) {
	told, good, err := d.toldOf(pot)
	if err != nil {
		return nil, err
	}
	when := map[entry.ID]time.Time{} // of those of which that is known
	for _, v := range told {
		if t, known, err := d.onSince(v); err != nil {
			return nil, err
		} else if known {
			when[v.ID()] = t
		}
	}
	before := func(v entry.Verified) bool { t, known := when[v.ID()]; return known && t.Before(at.Add(-gaugeSlack)) }
	after := func(v entry.Verified) bool { t, known := when[v.ID()]; return known && t.After(at.Add(gaugeSlack)) }
	var ids []model.ID
	for _, v := range told {
		if len(v.Body().Replaces) > 0 && after(v) { // what nobody stood before it was so from the beginning
			continue
		}
		if slices.ContainsFunc(followed(told, v), func(w entry.Verified) bool { return good[w.ID()] && before(w) }) {
			continue
		}
		for _, id := range gaugesIn(v) {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	if len(ids) == 0 {
		return d.MaybeOn(pot)
	}
	err = d.read(func(src register.Source) {
		for _, id := range ids {
			out = append(out, pot.with(src, id))
		}
	})
	return out, err
}

// onSince is since when a pot has the gauge that a description says: the day on which it was told, or which it says.
func (d *Desk) onSince(told entry.Verified) (at time.Time, known bool, err error) {
	var x model.Sterilizer
	if told.Body().Decode(&x) == nil && x.Since > 0 {
		return time.UnixMilli(x.Since), true, nil
	}
	at, known, err = d.Corrected(told)
	if err != nil || !known {
		return at, false, err
	}
	ahead, err := d.stoodAhead(told)
	return at, !ahead, err
}

// stoodAhead says whether the clock by which something was told is known to have stood ahead: it was here before its day, or what its device told after it is of an earlier one.
func (d *Desk) stoodAhead(told entry.Verified) (bool, error) {
	b := told.Body()
	var site model.ID
	var head entry.Verified
	last, id, _, err := d.Store.Resume(b.Stream)
	if err != nil {
		return false, d.unread(err)
	}
	if err := d.read(func(src register.Source) {
		site, _ = src.Roster().SiteOf(told)
		if last > b.Seq {
			head, _ = src.Entry(id)
		}
	}); err != nil {
		return false, err
	}
	if !head.IsZero() && fell(b, head.Body().Wall) {
		return true, nil
	}
	sets, err := d.Store.ByKind(model.KindClockSet, b.Stream)
	if err != nil {
		return false, d.unread(err)
	}
	if aheadBy(told, sets, 0) {
		return true, nil
	}
	came, _, err := d.Store.CameBy(site, told.ID())
	if err != nil {
		return false, d.unread(err)
	}
	return !came.IsZero() && time.UnixMilli(b.Wall).After(came.AddDate(0, 0, 1).Add(othersClock)), nil
}

// fell says whether a clock went back to a time from that of an entry: to a plausible one, for a clock that came up in the year 2000 says nothing.
func fell(b *entry.Body, wall int64) bool {
	return wall < b.Wall && !time.UnixMilli(wall).Before(Built)
}

// aheadBy says whether the clock by which something was told is known to have stood ahead, by more than slack, by what was said of the date on its device since.
func aheadBy(told entry.Verified, sets []entry.Verified, slack time.Duration) bool {
	b := told.Body()
	return b.Clock == model.ClockGood && slices.ContainsFunc(sets, func(s entry.Verified) bool {
		var c model.ClockSet
		return s.Body().Stream == b.Stream && s.Body().Seq > b.Seq && s.Body().Decode(&c) == nil && ((c.Known && c.Is < b.Wall-slack.Milliseconds()) || (!c.Known && fell(b, c.Was)))
	})
}

// followed are the descriptions that were written in knowledge of one: that replace it, or what replaced it.
func followed(told []entry.Verified, v entry.Verified) (out []entry.Verified) {
	seen := map[entry.ID]bool{v.ID(): true}
	for more := true; more; {
		more = false
		for _, w := range told {
			if !seen[w.ID()] && slices.ContainsFunc(w.Body().Replaces, func(id entry.ID) bool { return seen[id] }) {
				seen[w.ID()], more, out = true, true, append(out, w)
			}
		}
	}
	return out
}

// gaugeSlack is how far from the day on which it was told of a gauge may have been changed.
const gaugeSlack = 24 * time.Hour

// toldOf are the descriptions of a pot by who may say so, and by devices whose word counts no more; good are those of the first.
func (d *Desk) toldOf(pot Pot) (told []entry.Verified, good map[entry.ID]bool, err error) {
	good = map[entry.ID]bool{}
	err = d.read(func(src register.Source) {
		st := register.Of(src, model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
		r := src.Roster()
		for _, v := range slices.Concat(st.Entries, st.Claims) {
			if v.Body().Kind != model.KindSterilizer || !register.Speaks(src, v, st.Ref) || !(r.Allows(v) || r.Once(v)) {
				continue
			}
			told, good[v.ID()] = append(told, v), r.Allows(v)
		}
	})
	return told, good, err
}
