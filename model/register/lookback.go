package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Holds by what was found out later: a gauge that showed more than a load's plan allowed for, another gauge that had been screwed on, a dial that had been described wrongly, an altitude above the one that it was planned for. They are derived, so a load that is
// told of afterwards is in doubt as well, on every device that hears of both.

// Codes of these holds.
const (
	HoldGauge   = "gauge-doubt"
	HoldSwapped = "gauge-swapped"
	HoldDial    = "dial-doubt"
	HoldHeight  = "altitude-doubt"
	HoldRules   = "rules-doubt" // planned by rules of a device that was taken out since before: no reading answers that, somebody in charge does
)

// pastDoubts are the holds on a load by comparisons of its gauge, by who said that another gauge was on the pot, and by statements of its site's altitude. What exempts a load stands in its own first entry, or in the entry that
// would hold it: nothing that comes later frees it but a clear.
func pastDoubts(src Source, st State) (out []Hold) {
	if st.Ref.Noun != model.NounCycle {
		return nil
	}
	seen := map[entry.ID]bool{}
	gauges := map[entry.ID]model.Compared{} // comparisons that put it in doubt
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
		swapped, on := screwedOn(src, v, c)
		for _, w := range swapped {
			lay(w, HoldSwapped)
		}
		for _, w := range PlannedBy(src, v) {
			lay(w, map[model.Kind]string{model.KindSite: HoldHeight, model.KindCompared: HoldGauge, model.KindPolicy: HoldRules, model.KindGauge: HoldDial}[w.Body().Kind])
		}
		for _, gauge := range on {
			about := src.Targeting(model.Ref{Noun: model.NounGauge, ID: gauge})
			back := TakenBack(about, src.Roster().Known)
			silent := unvouched(src, about, back)
			for _, w := range referenceDoubts(src, v, c, about, silent) {
				lay(w, HoldGauge)
			}
			for _, w := range about {
				if putRight(w, c.Plan, gauge == c.Gauge) && later(src, v, w) {
					lay(w, HoldDial)
				}
				var x model.Compared
				if w.Body().Kind != model.KindCompared || !later(src, v, w) || litTakenBack(src, v, back[w.ID()]) {
					continue
				}
				if w.Body().Decode(&x) != nil || (x.WorstPa != 0 && x.WorstPa > Counted(c.Plan)+DustPa && !Covers(src, Window(w, x, about, silent), v)) { // what cannot be read may have been the bad news
					lay(w, HoldGauge)
					if back[w.ID()] == nil { // one that was taken back says nothing for another
						gauges[w.ID()] = x
					}
				}
			}
		}
		for _, site := range Claimants(src, st.Ref) {
			for _, w := range src.Targeting(model.Ref{Noun: model.NounHeight, ID: site}) {
				var x model.Site
				if w.Body().Kind == model.KindSite && later(src, v, w) && (w.Body().Decode(&x) != nil || x.RaisedPa > c.Plan.NeedPa) {
					lay(w, HoldHeight)
				}
			}
		}
	}
	return slices.DeleteFunc(out, func(h Hold) bool { // looked at again, and nothing worse was found than what puts it in doubt already
		return h.Code == HoldGauge && slices.ContainsFunc(h.Cause.Body().Replaces, func(id entry.ID) bool {
			before, ok := gauges[id]
			return ok && noWorse(gauges[h.Cause.ID()], before)
		})
	})
}

// noWorse says whether a comparison found a gauge no worse than another before it: neither in all that it may be off, nor in what was read.
func noWorse(now, before model.Compared) bool {
	most := func(c model.Compared) (milli int64) {
		for _, p := range c.Points {
			milli = max(milli, p.ErrorMilli)
		}
		return milli
	}
	sameDial := now.Gauge == before.Gauge || (now.Gauge != nil && before.Gauge != nil && now.Gauge.Unit == before.Gauge.Unit)
	return before.WorstPa >= now.WorstPa && sameDial && most(before) >= most(now)
}

// plannedKinds are what a plan rests on.
var plannedKinds = []model.Kind{model.KindSite, model.KindCompared, model.KindPolicy, model.KindGauge}

// PlannedBy are the comparisons, dials, altitudes and rules that a load was planned by, and that count no more: as long as nobody whose word counts had answered them when it was lit.
func PlannedBy(src Source, load entry.Verified) (out []entry.Verified) {
	relies := load.Body().Relies
	for _, id := range relies {
		v, here := src.Entry(id)
		if !here || !src.Roster().Known(v) || !slices.Contains(plannedKinds, v.Body().Kind) || !(CountsNoMore(src, v) || byLostReference(src, v)) || asksForMore(src, v) {
			continue
		}
		if _, back := takesBack(v); back {
			continue // whose taking back counts no more, the comparison itself holds it
		}
		if !answeredIn(src, v, relies) {
			out = append(out, v)
		}
	}
	return out
}

// asksForMore says of a word that it asks for no less than what counts without it: a higher place, or a rule as strict as that which holds where nobody says one.
func asksForMore(src Source, v entry.Verified) bool {
	var site model.Site
	var p model.Policy
	switch v.Body().Kind {
	case model.KindSite:
		return v.Body().Decode(&site) == nil && site.RaisedPa > 0
	case model.KindPolicy:
		if v.Body().Decode(&p) != nil {
			return false
		}
		usual, ok := model.Rules(nil)[p.Code]
		return ok && StricterPolicy(p, usual) == p && !slices.ContainsFunc(TargetingKind(src, model.PolicyRef(p.Code), model.KindPolicy), func(w entry.Verified) bool {
			var o model.Policy
			return src.Roster().Known(w) && !src.Roster().Gone(w) && (w.Body().Decode(&o) != nil || (o.Code == p.Code && (o.Value != p.Value || o.On != p.On) && StricterPolicy(o, p) == o))
		})
	}
	return false
}

// screwedOn are the words that another gauge is on a load's pot that it was lit without knowing of, and the gauges that may have watched it: the one that it says, and these.
func screwedOn(src Source, load entry.Verified, c model.CycleBegun) (by []entry.Verified, gauges []model.ID) {
	gauges = []model.ID{c.Gauge}
	for _, w := range TargetingKind(src, model.Ref{Noun: model.NounSterilizer, ID: c.Sterilizer}, model.KindSterilizer) {
		var x model.Sterilizer
		read := w.Body().Decode(&x) == nil
		if !SaysScrewedOn(w) || !later(src, load, w) || (read && x.Gauge == c.Gauge) || Covers(src, x.Knew, load) {
			continue
		}
		if by = append(by, w); read && !slices.Contains(gauges, x.Gauge) {
			gauges = append(gauges, x.Gauge)
		}
	}
	return by, gauges
}

// SaysScrewedOn says whether an entry says which gauge is on a pot now; one that cannot be read may.
func SaysScrewedOn(v entry.Verified) bool {
	var x model.Sterilizer
	return v.Body().Kind == model.KindSterilizer && (v.Body().Decode(&x) != nil || x.Screwed)
}

// putRight says whether a description of a dial says that it shows less than was said before, or may be off by more, and that a plan was not made by it; of another gauge than the plan's, none was. One that cannot be
// read may.
func putRight(w entry.Verified, p model.FrozenPlan, own bool) bool {
	var x model.GaugeLooks
	if w.Body().Kind != model.KindGauge {
		return false
	}
	return w.Body().Decode(&x) != nil || (x.OverPa > 0 && (!own || x.Unit != p.Unit || x.SpanMilli > p.SpanMilli || x.LineMilli > p.LineMilli))
}

// GaugesOf are the gauges that may have watched a load: those that its beginnings name, and those that whoever lit it did not know of.
func GaugesOf(src Source, c Cycle) (out []model.ID) {
	for _, v := range c.State.Entries {
		var x model.CycleBegun
		if v.Body().Kind != model.KindCycleBegun || v.Body().Decode(&x) != nil {
			continue
		}
		_, on := screwedOn(src, v, x)
		for _, id := range on {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out
}

// DustPa is what rounding makes of an error that is found anew: both sides are whole pascals.
const DustPa = 5

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

// Counted is the error of its gauge, Pa, that a plan allowed for at its own line.
func Counted(f model.FrozenPlan) int64 {
	if f.CountedPa == 0 { // of old records
		return f.ErrorPa
	}
	return f.CountedPa
}

// doubt says whether a hold is of something that was found out later.
func (h Hold) doubt() bool { return slices.Contains(Doubts, h.Code) }

// lookedBack says whether a clear of a load in doubt was written in knowledge of everything that puts it in doubt, and of every fact that a verdict rests on: two halves, each
// answered by somebody who did not know of the other, are no answer, and a reading that comes later takes it away. So does the removal of a device that took a comparison back.
func lookedBack(src Source, clear entry.Verified, st State) bool {
	b := clear.Body()
	for _, h := range st.Holds {
		if h.doubt() && !slices.Contains(b.Clears, h.ID) {
			return false
		}
	}
	for _, id := range b.Relies {
		v, here := src.Entry(id)
		if _, back := takesBack(v); here && back && !src.Roster().Allows(v) {
			return false
		}
		if here && slices.Contains(shownKinds, v.Body().Kind) && (CountsNoMore(src, v) || byLostReference(src, v)) && !(v.Body().Kind == model.KindPolicy && asksForMore(src, v)) && !slices.ContainsFunc(st.Holds, func(h Hold) bool { return h.Cause.ID() == id }) {
			return false // it was judged by that, and it counts no more
		}
	}
	return !slices.ContainsFunc(st.Entries, func(v entry.Verified) bool {
		return slices.Contains(judgedKinds, v.Body().Kind) && src.Roster().Known(v) && !slices.Contains(b.Relies, v.ID())
	})
}

// shownKinds are what a load that is looked back on is judged by.
var shownKinds = []model.Kind{model.KindCompared, model.KindSite, model.KindGauge, model.KindPolicy}

// SpareNow are the spare loads of a recall that it is about by now: as far back as no good test proves anything any more.
func SpareNow(src Source, recall entry.Verified, r model.Recall) (out [][]byte) {
	for _, x := range r.Spare {
		for _, b := range x.Reads {
			if len(b) != len(entry.ID{}) {
				continue
			}
			if v, here := src.Entry(entry.ID(b)); here && !deniedSince(src, v, recall) {
				return out
			}
		}
		out = append(out, x.Loads...)
	}
	return out
}

// lateRecalls are holds on a load by wide recalls of its pot that did not know it: it was not lit in knowledge of them, and is among what they call back.
func lateRecalls(src Source, st State) (out []Hold) {
	if st.Ref.Noun != model.NounCycle {
		return nil
	}
	for _, pot := range st.Parents {
		for _, w := range src.Targeting(pot) {
			var r model.Recall
			if w.Body().Kind != model.KindRecall || !src.Roster().Known(w) || slices.Contains(w.Body().Refs(), st.Ref) {
				continue
			}
			unread := w.Body().Decode(&r) != nil
			if !unread && (r.Drill || !r.Wide) {
				continue
			}
			spare := !unread && slices.ContainsFunc(SpareNow(src, w, r), func(b []byte) bool { return string(b) == string(st.Ref.ID[:]) })
			if slices.ContainsFunc(st.Entries, func(v entry.Verified) bool {
				return v.Body().Kind == model.KindCycleBegun && later(src, v, w) && (unread || spare || !Covers(src, r.Knew, v))
			}) && !slices.ContainsFunc(out, func(h Hold) bool { return h.Cause.ID() == w.ID() }) {
				out = append(out, Hold{ID: entry.HoldID(w.ID(), st.Ref), Cause: w, Code: HoldRecalled})
			}
		}
	}
	return out
}
