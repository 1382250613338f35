package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// HoldBadTime stops a load of a pot that came back from a growth, where nothing shows that the load was made after it came back, and whoever brought it back did not know the load.
const HoldBadTime = "bad-time"

// badTimes are holds on a load by the growths of its pot that were cleared since. A clear speaks of the pot, and of the loads that were known when it was written: those of
// the bad time among them were held by name with it. A load that is told of later is free only where it was lit in knowledge of the clear, and on paper only with a day after it.
func badTimes(src Source, st State) (out []Hold) {
	if st.Ref.Noun != model.NounCycle {
		return nil
	}
	for _, pot := range st.Parents {
		for _, h := range folded(src, pot).Holds {
			if h.Code != HoldSpore || h.Open() || slices.ContainsFunc(h.Cleared, func(c entry.Verified) bool { return frees(src, c, st) }) {
				continue
			}
			for _, c := range h.Cleared {
				out = append(out, Hold{ID: entry.HoldID(c.ID(), st.Ref), Cause: c, Code: HoldBadTime})
			}
		}
	}
	return out
}

// frees says whether a clear of a pot's growth leaves a load to its own holds: each beginning that is told of it must allow that.
func frees(src Source, clear entry.Verified, load State) bool {
	var c model.Clear
	if clear.Body().Decode(&c) != nil {
		return false
	}
	return !slices.ContainsFunc(load.Entries, func(v entry.Verified) bool {
		return v.Body().Kind == model.KindCycleBegun && !Covers(src, c.Knew, v) && !litAfter(clear, c, v)
	})
}

// litAfter says whether a load was begun in knowledge of a clear.
func litAfter(clear entry.Verified, c model.Clear, v entry.Verified) bool {
	var begun model.CycleBegun
	if v.Body().Decode(&begun) != nil || !slices.Contains(v.Body().Relies, clear.ID()) {
		return false
	}
	return begun.Source == model.Live || (c.SlipsFrom > 0 && begun.Begun > c.SlipsFrom)
}

// keeper is a source that keeps a folded noun for the rest of one reading: a pot is asked for by each of its loads.
type keeper interface {
	Kept(model.Ref, func() State) State
}

// folded folds a noun; a pot only once in a reading.
func folded(src Source, ref model.Ref) State {
	if k, ok := src.(keeper); ok && ref.Noun == model.NounSterilizer {
		return k.Kept(ref, func() State { return Of(src, ref) })
	}
	return Of(src, ref)
}
