package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// A reference gauge that was found to show too much takes with it every comparison that was made with it. Those that were here then were stated anew beside it; one that comes by a later stick was not, and is off
// by as much all the same.

// ReferenceOff are the words that the reference of a comparison showed too much which whoever compared did not know of, and which did not state that comparison anew; off is the most of them, Pa.
func ReferenceOff(src Source, compared entry.Verified) (by []entry.Verified, off int64) {
	var x model.Compared
	if compared.Body().Kind != model.KindCompared || compared.Body().Decode(&x) != nil || x.Reference.IsZero() || len(x.Withdraws) > 0 {
		return nil, 0
	}
	id := compared.ID()
	for _, w := range TargetingKind(src, model.Ref{Noun: model.NounReference, ID: x.Reference}, model.KindReference) {
		var r model.Reference
		if w.Body().Decode(&r) != nil || r.OffPa <= 0 || !src.Roster().Known(w) || slices.Contains(compared.Body().Relies, w.ID()) {
			continue
		}
		if !slices.ContainsFunc(r.Restated, func(b []byte) bool { return string(b) == string(id[:]) || string(b) == string(x.Restates) }) {
			by, off = append(by, w), max(off, r.OffPa)
		}
	}
	return by, off
}

// referenceDoubts are those words that put a load in doubt: a comparison of its gauge was made with that reference, and with what it was off by the gauge showed more than the load's plan allowed for. A load
// that was lit in knowledge of the word is not.
func referenceDoubts(src Source, load entry.Verified, c model.CycleBegun, about []entry.Verified, back map[entry.ID][]entry.Verified) (out []entry.Verified) {
	for _, w := range about {
		by, off := ReferenceOff(src, w)
		var x model.Compared
		if off == 0 || !src.Roster().Known(w) || w.Body().Decode(&x) != nil || x.WorstPa+off <= Counted(c.Plan)+DustPa || Covers(src, Window(w, x, about, back), load) {
			continue
		}
		for _, v := range by {
			if later(src, load, v) && !slices.ContainsFunc(out, func(o entry.Verified) bool { return o.ID() == v.ID() }) {
				out = append(out, v)
			}
		}
	}
	return out
}
