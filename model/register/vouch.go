package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Words that a plan, a mark or a verdict may rest on: what a device told that was taken out since before, or of which there are two, says nothing for the good any more.

// CountsNoMore says whether who told of something may not say it now, but could.
func CountsNoMore(src Source, v entry.Verified) bool {
	return src.Roster().Gone(v) || src.Roster().Once(v)
}

// Vouches says whether a comparison makes a gauge better: by somebody whose word counts, with a reference that somebody described whose word counts.
func Vouches(src Source, v entry.Verified) bool {
	return src.Roster().Allows(v) && !byLostReference(src, v)
}

// byLostReference says whether a comparison was made with a reference by the word of a device whose word counts no more, which nobody else had answered by then.
func byLostReference(src Source, v entry.Verified) bool {
	relies := v.Body().Relies
	return v.Body().Kind == model.KindCompared && slices.ContainsFunc(relies, func(id entry.ID) bool {
		w, here := src.Entry(id)
		var r model.Reference
		if !here || w.Body().Kind != model.KindReference || !CountsNoMore(src, w) || (w.Body().Decode(&r) == nil && r.OffPa > 0) { // that it showed too much counts, whoever says so
			return false
		}
		return !answeredIn(src, w, relies)
	})
}

// answeredIn says whether somebody whose word counts told of the same in the place of a word, or of what took that place, among what is relied on.
func answeredIn(src Source, v entry.Verified, relies []entry.ID) bool {
	return slices.ContainsFunc(relies, func(id entry.ID) bool {
		w, here := src.Entry(id)
		return here && w.Body().Kind == v.Body().Kind && slices.Contains(w.Body().Replaces, v.ID()) && (!CountsNoMore(src, w) || answeredIn(src, w, relies))
	})
}

// unvouched are the comparisons that leave nothing out of doubt: those that were taken back, with what did so, and those that vouch for nothing.
func unvouched(src Source, about []entry.Verified, back map[entry.ID][]entry.Verified) map[entry.ID][]entry.Verified {
	out := back
	for _, w := range about {
		if w.Body().Kind != model.KindCompared || back[w.ID()] != nil || Vouches(src, w) {
			continue
		}
		if len(out) == len(back) { // the other map is not ours
			out = map[entry.ID][]entry.Verified{}
			for id, by := range back {
				out[id] = by
			}
		}
		out[w.ID()] = append(out[w.ID()], w)
	}
	return out
}
