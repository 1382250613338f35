package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// denied are the words that another gauge was on a pot, which were wrong, and since when the right one was.
type denied struct {
	words []entry.Verified
	since time.Time
}

// deniedBy goes back from what stands to what says a gauge: all that says another was wrong, from the first of it on. Where two were told of at once, the gauge was on no longer than since its own word.
func (d *Desk) deniedBy(pot Pot, gauge model.ID, neverOff bool) (out denied, err error) {
	told, _, err := d.toldOf(pot)
	if err != nil {
		return out, err
	}
	says := func(v entry.Verified) bool { return slices.Contains(gaugesIn(v), gauge) }
	var stand []entry.Verified
	if err := d.read(func(src register.Source) {
		st := register.Of(src, model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
		stand = append(register.Values(st, model.KindSterilizer), register.Doubted(src, st, model.KindSterilizer)...)
	}); err != nil {
		return out, err
	}
	out.words = back(told, stand, func(v entry.Verified) bool { return !says(v) })
	if out.since, err = d.first(out.words); err != nil || neverOff {
		return out, err
	}
	own := back(told, stand, says)
	if slices.ContainsFunc(own, func(v entry.Verified) bool { return len(v.Body().Replaces) == 0 }) { // it was on from the beginning
		return out, nil
	}
	came, err := d.first(own)
	if len(own) > 0 && came.After(out.since) {
		out.since = came
	}
	return out, err
}

// back are those of some words, and of what they replace on and on, that are of a kind; what follows on one that is not is left out.
func back(told, from []entry.Verified, of func(entry.Verified) bool) (out []entry.Verified) {
	for len(from) > 0 {
		v := from[0]
		from = from[1:]
		if !of(v) || slices.ContainsFunc(out, func(o entry.Verified) bool { return o.ID() == v.ID() }) {
			continue
		}
		out = append(out, v)
		for _, w := range told {
			if slices.Contains(v.Body().Replaces, w.ID()) {
				from = append(from, w)
			}
		}
	}
	return out
}

// first is the first moment from which on one of some words holds; the beginning of all time where that is not known.
func (d *Desk) first(words []entry.Verified) (since time.Time, err error) {
	for i, v := range words {
		at, known, err := d.onSince(v)
		if err != nil {
			return since, err
		}
		if !known {
			return time.UnixMilli(0), nil
		}
		if i == 0 || at.Before(since) {
			since = at
		}
	}
	return since, nil
}

// deniedSince says whether a word that a gauge was on a pot was denied by a later one: that another was never off.
func (d *Desk) deniedSince(word entry.Verified, pot, gauge model.ID) (bool, error) {
	told, good, err := d.toldOf(Pot{ID: pot})
	if err != nil {
		return false, err
	}
	on, known, err := d.onSince(word)
	return known && slices.ContainsFunc(followed(told, word), func(w entry.Verified) bool {
		var x model.Sterilizer
		return good[w.ID()] && w.Body().Decode(&x) == nil && x.Gauge == gauge && x.Since > 0 && x.Since <= on.UnixMilli()
	}), err
}
