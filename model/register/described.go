package register

import (
	"bytes"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Values is a multi-value register: all values of a noun's kind that nothing replaced, the
// one shown first at the front (highest Lamport counter, then id).
func Values(st State, kind model.Kind) []entry.Verified {
	replaced := map[entry.ID]bool{}
	for _, v := range st.Entries {
		if v.Body().Kind == kind {
			for _, id := range v.Body().Replaces {
				replaced[id] = true
			}
		}
	}
	var out []entry.Verified
	for _, v := range st.Entries {
		if v.Body().Kind == kind && !replaced[v.ID()] {
			out = append(out, v)
		}
	}
	slices.Reverse(out) // entries stand in rising order
	return out
}

// Described decodes the value shown first; two says that there are others.
func Described[T any](st State, kind model.Kind) (value T, two, ok bool) {
	vs := Values(st, kind)
	for _, v := range vs {
		if v.Body().Decode(&value) == nil {
			return value, Differ(vs), true
		}
	}
	return value, false, false
}

// Differ says whether several descriptions say different things: of what was said twice alike nothing is to be settled.
func Differ(vs []entry.Verified) bool {
	return slices.ContainsFunc(vs, func(v entry.Verified) bool { return !bytes.Equal(v.Body().Payload, vs[0].Body().Payload) })
}

// Unreplaced leaves out what another of them was written in knowledge of: it names it, or is a later one of the same device. What is left was said at once, and nobody
// has settled it.
func Unreplaced(vs []entry.Verified) (out []entry.Verified) {
	for _, v := range vs {
		if !slices.ContainsFunc(vs, func(w entry.Verified) bool {
			return w.ID() != v.ID() && (slices.Contains(w.Body().Replaces, v.ID()) || (w.Body().Stream == v.Body().Stream && w.Body().Seq > v.Body().Seq))
		}) {
			out = append(out, v)
		}
	}
	return out
}

// Opens says whether a policy opens a way where it is on; the others ask for something.
func Opens(code string) bool { return code == model.PolicyNotKnown || code == model.PolicyLongHold }

// StricterPolicy picks, of policies stated at once, the one that allows less: off before
// on for what opens, the larger number of minutes for what must be held, the smaller gap.
func StricterPolicy(a, b model.Policy) model.Policy {
	if a.On != b.On {
		if a.On == Opens(a.Code) { // what opens is stricter off, what asks for something is stricter on
			return b
		}
		return a
	}
	more := a.Code == model.PolicyWrapped || a.Code == model.PolicyUnwrapped || a.Code == model.PolicyVent || a.Code == model.PolicyDose || a.Code == model.PolicyUseFirst ||
		a.Code == model.PolicyHotGauge || a.Code == model.PolicyCommission
	less := !more // days between, limits of a pack, gaps: the smaller allows less
	if (a.Value < b.Value) == less {
		return a
	}
	return b
}
