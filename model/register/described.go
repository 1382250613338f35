package register

import (
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
			return value, len(vs) > 1, true
		}
	}
	return value, false, false
}

// StricterPolicy picks, of policies stated at once, the one that allows less: off before
// on for what opens, the larger number of minutes for what must be held, the smaller gap.
func StricterPolicy(a, b model.Policy) model.Policy {
	if a.On != b.On {
		opens := a.Code == model.PolicyNotKnown || a.Code == model.PolicyLongHold
		if a.On == opens { // what opens is stricter off, what asks for something is stricter on
			return b
		}
		return a
	}
	less := a.Code == model.PolicyGap || a.Code == model.PolicyAskEvery || a.Code == model.PolicyShelfCloth || a.Code == model.PolicyShelfPaper || a.Code == model.PolicyShelfPouch || a.Code == model.PolicyWashes || a.Code == model.PolicyCompareEvery || a.Code == model.PolicySporeEvery || a.Code == model.PolicyCardDays
	if (a.Value < b.Value) == less {
		return a
	}
	return b
}
