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
	return referenceOff(src, compared, func(w entry.Verified) bool { return PutBack(src, w) })
}

// PutBack says whether a word that the error of a reference had been written too low was a slip itself: somebody whose word counts put it back, by the same certificate.
func PutBack(src Source, word entry.Verified) bool {
	var was model.Reference
	if word.Body().Kind != model.KindReference || word.Body().Decode(&was) != nil || !was.Written {
		return false
	}
	return slices.ContainsFunc(word.Body().Refs(), func(ref model.Ref) bool {
		return slices.ContainsFunc(TargetingKind(src, ref, model.KindReference), func(w entry.Verified) bool {
			var now model.Reference
			return src.Roster().Allows(w) && slices.Contains(w.Body().Replaces, word.ID()) && w.Body().Decode(&now) == nil && now.OffPa == 0 && now.Certificate == was.Certificate &&
				now.Unit == was.Unit && now.ErrorMilli < was.ErrorMilli
		})
	})
}

func referenceOff(src Source, compared entry.Verified, but func(entry.Verified) bool) (by []entry.Verified, off int64) {
	var x model.Compared
	if compared.Body().Kind != model.KindCompared || compared.Body().Decode(&x) != nil || x.Reference.IsZero() || len(x.Withdraws) > 0 {
		return nil, 0
	}
	id := compared.ID()
	written := int64(0)
	for _, w := range TargetingKind(src, model.Ref{Noun: model.NounReference, ID: x.Reference}, model.KindReference) {
		var r model.Reference
		if w.Body().Decode(&r) != nil || r.OffPa <= 0 || !src.Roster().Known(w) || slices.Contains(compared.Body().Relies, w.ID()) || but(w) {
			continue
		}
		if !slices.ContainsFunc(r.Restated, func(b []byte) bool { return string(b) == string(id[:]) || string(b) == string(x.Restates) }) {
			if by = append(by, w); r.Written { // each is so much beside the one before it
				written += r.OffPa
			} else {
				off = max(off, r.OffPa)
			}
		}
	}
	return by, off + written
}

// referenceDoubts are those words that put a load in doubt: a comparison of its gauge was made with that reference, and with what it was off by the gauge showed more than the load's plan allowed for. A load
// that was lit in knowledge of the word is not.
func referenceDoubts(src Source, load entry.Verified, c model.CycleBegun, about []entry.Verified, silent map[entry.ID][]entry.Verified) (out []entry.Verified) {
	for _, w := range about {
		by, off := referenceOff(src, w, func(entry.Verified) bool { return false }) // what was put back frees nothing by itself
		var x model.Compared
		if off == 0 || !src.Roster().Known(w) || w.Body().Decode(&x) != nil || x.WorstPa+off <= Counted(c.Plan)+DustPa || Covers(src, Window(w, x, about, silent), load) {
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
