package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Holds by what was found out later: a gauge that showed more than a load's plan allowed for, an altitude above the one that it was planned for. They are derived, so a load that is
// told of afterwards is in doubt as well, on every device that hears of both.

// Codes of these holds.
const (
	HoldGauge  = "gauge-doubt"
	HoldHeight = "altitude-doubt"
)

// pastDoubts are the holds on a load by comparisons of its gauge, and by statements of its site's altitude. What exempts a load stands in its own first entry, or in the entry that
// would hold it: nothing that comes later frees it but a clear.
func pastDoubts(src Source, st State) (out []Hold) {
	if st.Ref.Noun != model.NounCycle {
		return nil
	}
	seen := map[entry.ID]bool{}
	lay := func(by entry.Verified, code string) {
		if id := entry.HoldID(by.ID(), st.Ref); !seen[id] {
			seen[id] = true
			out = append(out, Hold{ID: id, Cause: by, Code: code})
		}
	}
	for _, v := range st.Entries {
		var c model.CycleBegun
		if v.Body().Kind != model.KindCycleBegun || v.Body().Decode(&c) != nil || len(c.Packs) == 0 {
			continue
		}
		for _, w := range src.Targeting(model.Ref{Noun: model.NounGauge, ID: c.Gauge}) {
			var x model.Compared
			if w.Body().Kind == model.KindCompared && later(src, v, w) && w.Body().Decode(&x) == nil && x.WorstPa > max(c.Plan.CountedPa, c.Plan.ErrorPa) && !Covers(src, x.Since, v) {
				lay(w, HoldGauge)
			}
		}
		for _, site := range Claimants(src, st.Ref) {
			for _, w := range src.Targeting(model.Ref{Noun: model.NounHeight, ID: site}) {
				var x model.Site
				if w.Body().Kind == model.KindSite && later(src, v, w) && w.Body().Decode(&x) == nil && x.RaisedPa > c.Plan.NeedPa {
					lay(w, HoldHeight)
				}
			}
		}
	}
	return out
}

// later says whether what was found out by a known device was not known where a load was lit.
func later(src Source, load, found entry.Verified) bool {
	return src.Roster().Known(found) && !slices.Contains(load.Body().Relies, found.ID())
}

// Covers says whether a list of streams reaches an entry. Of a stream of which there are two branches nobody can tell.
func Covers(src Source, known []model.KnownUpTo, v entry.Verified) bool {
	b := v.Body()
	if d, ok := src.Roster().By(v); ok && d.Forked > 0 && b.Seq >= d.Forked {
		return false
	}
	return slices.ContainsFunc(known, func(k model.KnownUpTo) bool {
		return string(k.Stream) == string(b.Stream[:]) && int64(b.Seq) <= k.Seq
	})
}
