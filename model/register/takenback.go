package register

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// Comparisons that were taken back. Taking one back frees nothing: what it holds stays held, and widens the windows of those after it. Whoever may stop something may do that much; marks and
// verdicts follow only those whose word counts.

// TakenBack gives what took which comparison back, of those of whom may says so.
func TakenBack(about []entry.Verified, may func(entry.Verified) bool) map[entry.ID][]entry.Verified {
	var out map[entry.ID][]entry.Verified
	for _, w := range about {
		if id, ok := takesBack(w); ok && may(w) {
			if out == nil {
				out = map[entry.ID][]entry.Verified{}
			}
			out[id] = append(out[id], w)
		}
	}
	return out
}

// takesBack is the comparison that an entry takes back.
func takesBack(w entry.Verified) (id entry.ID, ok bool) {
	var x model.Compared
	if w.Body().Kind != model.KindCompared || w.Body().Decode(&x) != nil || len(x.Withdraws) != len(id) || strings.TrimSpace(x.Reason) == "" {
		return id, false
	}
	return entry.ID(x.Withdraws), true
}

// litTakenBack says whether a load was lit in knowledge of that a comparison was taken back, by somebody whose word counts still.
func litTakenBack(src Source, load entry.Verified, by []entry.Verified) bool {
	return slices.ContainsFunc(by, func(w entry.Verified) bool {
		return slices.Contains(load.Body().Relies, w.ID()) && src.Roster().Allows(w)
	})
}

// WindowOf is what a comparison leaves out of doubt: what the ones before it had in their past, as it says; but one that was taken back, or counts no more, vouched for nothing, so only what that one left out itself.
func WindowOf(src Source, w entry.Verified, x model.Compared, about []entry.Verified, back map[entry.ID][]entry.Verified) []model.KnownUpTo {
	return Window(w, x, about, unvouched(src, about, back))
}

// Window is WindowOf where it is known which vouch for nothing.
func Window(w entry.Verified, x model.Compared, about []entry.Verified, back map[entry.ID][]entry.Verified) []model.KnownUpTo {
	since := x.Since
	for _, id := range w.Body().Replaces {
		if len(since) == 0 || back[id] == nil || anotherVouched(w, id, x, about, back) {
			continue
		}
		var y model.Compared // of one that is not here, or cannot be read: nothing is left out
		if i := slices.IndexFunc(about, func(v entry.Verified) bool { return v.ID() == id }); i >= 0 {
			_ = about[i].Body().Decode(&y)
		}
		since = BothKnew(since, y.Since)
	}
	return since
}

// anotherVouched says whether what a comparison leaves out is what another one vouched for, which was made after one that was taken back, and stands.
func anotherVouched(w entry.Verified, gone entry.ID, x model.Compared, about []entry.Verified, back map[entry.ID][]entry.Verified) bool {
	return slices.ContainsFunc(about, func(u entry.Verified) bool {
		var y model.Compared
		return back[u.ID()] == nil && slices.Contains(w.Body().Replaces, u.ID()) && slices.Contains(u.Body().Replaces, gone) && u.Body().Decode(&y) == nil && len(y.Withdraws) == 0 &&
			slices.EqualFunc(x.Since, y.Knew, func(a, b model.KnownUpTo) bool { return a.Seq == b.Seq && string(a.Stream) == string(b.Stream) })
	})
}

// BothKnew is what two lists of streams both reach.
func BothKnew(a, b []model.KnownUpTo) (out []model.KnownUpTo) {
	for _, k := range a {
		for _, o := range b {
			if string(o.Stream) == string(k.Stream) {
				out = append(out, model.KnownUpTo{Stream: k.Stream, Seq: min(k.Seq, o.Seq)})
			}
		}
	}
	return out
}
