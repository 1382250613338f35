package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// This file decides whether a pack may be used. Two people read every change to it.

// MostSteps is the longest way from a pack to what it comes from.
const MostSteps = 6

// Word is the answer for a noun.
type Word string

// The words. Only Usable opens a pack.
const (
	Usable      Word = "usable"
	Held        Word = "held"
	NotReleased Word = "not-released"
	CannotTell  Word = "cannot-tell"
)

// Answer is a word with its reasons.
type Answer struct {
	Word     Word
	Holds    []Hold         // open, on the noun or on what it comes from
	Missing  []entry.ID     // evidence named by a release and not here
	Release  entry.Verified // the release that counts, where there is one
	Override bool           // released although not known: marked for life
}

// IsUsable answers for a noun (a pack, or a cycle as a whole).
func IsUsable(src Source, ref model.Ref) Answer {
	var a Answer
	states, whole := lineage(src, ref)
	for _, st := range states {
		for _, h := range st.Holds {
			if h.Open() && h.stopsPacks(st.Ref) && !freedFrom(src, h, st.Ref, states) {
				a.Holds = append(a.Holds, h)
			}
		}
		a.Holds = append(a.Holds, seenBad(st, ref)...)
	}
	released := false
	for _, v := range states[0].Entries {
		switch good, missing := releases(src, v, ref); {
		case len(missing) > 0:
			a.Missing = append(a.Missing, missing...)
		case good:
			released = true
			var r model.Release
			_ = v.Body().Decode(&r) // releases has read it
			if a.Release.IsZero() || !r.Override {
				a.Release = v
			}
			a.Override = a.Override || r.Override // marked for life, whatever else was said
		}
	}
	switch {
	case len(a.Holds) > 0:
		a.Word = Held
	case released && whole:
		a.Word = Usable
	case len(a.Missing) > 0 || (released && !whole):
		a.Word = CannotTell
	default:
		a.Word = NotReleased
	}
	return a
}

// freedFrom says whether somebody freed by name, from a growth of their pot, every load of it that the pack was in: those that were provably run before the last good test. The clear targets
// the load and names the pot's hold; the pot stays held, and so does any other load.
func freedFrom(src Source, h Hold, pot model.Ref, states []State) bool {
	if pot.Noun != model.NounSterilizer || h.Code != HoldSpore {
		return false
	}
	loads := 0
	for _, st := range states {
		if st.Ref.Noun != model.NounCycle || !slices.Contains(st.Parents, pot) {
			continue
		}
		loads++
		if !slices.ContainsFunc(st.Entries, func(v entry.Verified) bool {
			return clears(src, v) && slices.Contains(v.Body().Clears, h.ID) && lifts(src, v, h, st.Ref) && !testedAgain(src, v)
		}) {
			return false
		}
	}
	return loads > 0
}

// testedAgain says whether more was told since of a spore test that a clear rests on: it may be void, or may have grown.
func testedAgain(src Source, clear entry.Verified) bool {
	relies := clear.Body().Relies
	for _, id := range relies {
		e, ok := src.Entry(id)
		var r model.SporeRead
		if !ok || e.Body().Kind != model.KindSporeRead || e.Body().Decode(&r) != nil || r.Grew { // the growth itself is what it is freed from
			continue
		}
		for _, ref := range e.Body().Refs() {
			if ref.Noun == model.NounTest && slices.ContainsFunc(src.Targeting(ref), func(v entry.Verified) bool {
				return src.Roster().Known(v) && !slices.Contains(relies, v.ID())
			}) {
				return true
			}
		}
	}
	return false
}

// StoppedBy are the open holds that stop a load: on it, and on the pot that it comes from, but what it was freed from by name.
func StoppedBy(src Source, load State) (out []Hold) {
	for _, h := range load.Holds {
		if h.Open() {
			out = append(out, h)
		}
	}
	for _, pot := range load.Parents {
		for _, h := range folded(src, pot).Holds {
			if h.Open() && h.stopsPacks(pot) && !freedFrom(src, h, pot, []State{load}) {
				out = append(out, h)
			}
		}
	}
	return out
}

// seenBad: a pack that a look at its load found bad ends, even where the look names the load only.
func seenBad(st State, ref model.Ref) (out []Hold) {
	if ref.Noun != model.NounPack || st.Ref.Noun != model.NounCycle {
		return nil
	}
	for _, v := range st.Entries {
		var u model.Unloaded
		if v.Body().Kind == model.KindUnloaded && v.Body().Decode(&u) == nil && badIn(u, ref.ID) {
			out = append(out, Hold{ID: entry.HoldID(v.ID(), ref), Cause: v, Code: HoldPack, Final: true})
		}
	}
	return out
}

// lineage folds the noun and all it comes from. whole is false where the way does not
// end: a pack without its cycle, a cycle without its sterilizer, or over six steps.
func lineage(src Source, ref model.Ref) (states []State, whole bool) {
	whole = true
	level := []model.Ref{ref}
	seen := map[model.Ref]bool{ref: true}
	for step := 0; len(level) > 0; step++ {
		if step > MostSteps {
			return states, false
		}
		var next []model.Ref
		for _, r := range level {
			st := folded(src, r)
			states = append(states, st)
			if len(st.Parents) == 0 && (r.Noun == model.NounPack || r.Noun == model.NounCycle) {
				whole = false
			}
			for _, p := range st.Parents {
				if !seen[p] {
					seen[p] = true
					next = append(next, p)
				}
			}
		}
		level = next
	}
	return states, whole
}

// releases says whether v is a release of ref that counts; missing is evidence it names
// that is not here (or is not from a known device, which is the same).
func releases(src Source, v entry.Verified, ref model.Ref) (good bool, missing []entry.ID) {
	b := v.Body()
	var r model.Release
	if b.Kind != model.KindRelease || !src.Roster().Allows(v) || b.Decode(&r) != nil {
		return false, nil
	}
	evidence, missing := reliedOn(src, v)
	if len(missing) > 0 {
		return false, missing
	}
	if !Speaks(src, v, ref) {
		return false, nil
	}
	if seenByNobody(src, evidence) || byLostRule(src, evidence) {
		return false, nil
	}
	var load, override bool
	for _, e := range evidence {
		if amendedJudged(src, e.ID()) {
			return false, nil
		}
		if e.Body().Kind == model.KindCycleBegun && slices.Contains(e.Body().Refs(), ref) {
			if !src.Roster().Together(v, e) { // another site says that it sterilized it
				return false, nil
			}
			load = true
		}
		override = override || allowsOverride(src, e, v)
	}
	if !load || !src.Roster().NamesGrant(v) || !sawAll(src, v, ref, evidence) {
		return false, nil
	}
	switch r.Judged.Verdict {
	case model.Shown:
		return true, nil
	case model.NotKnown:
		return r.Override && r.Reason != "" && !b.Person.IsZero() && override, nil
	}
	return false, nil
}

// byLostRule says whether a release rests on a rule that asks for less than what counts without it, and that was told by a device whose word counts no more.
func byLostRule(src Source, evidence []entry.Verified) bool {
	return slices.ContainsFunc(evidence, func(e entry.Verified) bool {
		return e.Body().Kind == model.KindPolicy && CountsNoMore(src, e) && !asksForMore(src, e)
	})
}

// seenByNobody says whether all that a release rests on of the looks at its packs, or of the strips and thermometers in its load, was told by devices that were taken out since before.
func seenByNobody(src Source, evidence []entry.Verified) bool {
	for _, k := range []model.Kind{model.KindUnloaded, model.KindWitness} {
		of := func(e entry.Verified) bool { return e.Body().Kind == k }
		if slices.ContainsFunc(evidence, of) && !slices.ContainsFunc(evidence, func(e entry.Verified) bool { return of(e) && !src.Roster().Gone(e) }) {
			return true
		}
	}
	return false
}

// reliedOn gathers the evidence that an entry names. Absent, or by a device that is not known
// here: missing.
func reliedOn(src Source, v entry.Verified) (have []entry.Verified, missing []entry.ID) {
	for _, id := range v.Body().Relies {
		if e, ok := src.Entry(id); ok && src.Roster().Known(e) {
			have = append(have, e)
		} else {
			missing = append(missing, id)
		}
	}
	return have, missing
}

// judgedKinds are the facts that a verdict rests on.
var judgedKinds = []model.Kind{model.KindCycleBegun, model.KindStep, model.KindReadings, model.KindInterrupted}

// sawAll says whether a release was written in knowledge of everything here that its verdict would rest
// on: every load that the noun went into, and every fact of those loads. What comes
// later, from another device, takes the release away until somebody looks again.
func sawAll(src Source, release entry.Verified, ref model.Ref, evidence []entry.Verified) bool {
	relies := release.Body().Relies
	loads := []model.Ref{ref}
	for _, v := range append(evidence, src.Targeting(ref)...) {
		var c model.CycleBegun
		if v.Body().Kind != model.KindCycleBegun || !slices.Contains(v.Body().Refs(), ref) || !src.Roster().Known(v) {
			continue
		}
		if !slices.Contains(relies, v.ID()) || v.Body().Decode(&c) != nil || c.Practice {
			return false
		}
		for _, r := range v.Body().Refs() {
			if r.Noun == model.NounCycle {
				loads = append(loads, r)
			}
		}
	}
	for _, r := range loads {
		for _, v := range src.Targeting(r) {
			if slices.Contains(judgedKinds, v.Body().Kind) && src.Roster().Known(v) && !slices.Contains(relies, v.ID()) {
				return false
			}
		}
	}
	return true
}

// allowsOverride says whether e is the district's policy that a named person may release what is
// not known, in force when the release was written.
func allowsOverride(src Source, e, release entry.Verified) bool {
	var p model.Policy
	if e.Body().Kind != model.KindPolicy || !src.Roster().Allows(e) || !src.Roster().Together(e, release) || e.Body().Decode(&p) != nil ||
		p.Code != model.PolicyNotKnown || !p.On || p.Source == "" {
		return false
	}
	if by, _ := src.Roster().By(e); by.Office { // the district's leave counts by the acceptance that the release names
		site, _ := src.Roster().SiteOf(release)
		if s, _ := src.Roster().Site(site); !s.Office && !slices.ContainsFunc(src.Roster().Acceptances(site), func(id entry.ID) bool { return slices.Contains(release.Body().Relies, id) }) {
			return false
		}
	}
	var said []entry.Verified // what was said of it to the release's site before the release
	for _, v := range src.Targeting(model.PolicyRef(p.Code)) {
		if v.Body().Kind == model.KindPolicy && src.Roster().Known(v) && (src.Roster().Together(v, release) || src.Roster().WasOffice(v)) && v.Body().Lamport < release.Body().Lamport {
			said = append(said, v)
		}
	}
	return !slices.ContainsFunc(Unreplaced(said), func(v entry.Verified) bool {
		var q model.Policy
		return v.Body().Decode(&q) != nil || !q.On
	})
}

// clears says whether a clear counts: by a device that may, in knowledge of its grant,
// and all it relies on is here and stands.
func clears(src Source, v entry.Verified) bool {
	if v.Body().Kind != model.KindClear || !src.Roster().Allows(v) || !src.Roster().NamesGrant(v) {
		return false
	}
	evidence, missing := reliedOn(src, v)
	return len(missing) == 0 && !liftedForNobody(src, evidence) &&
		!slices.ContainsFunc(evidence, func(e entry.Verified) bool { return amendedJudged(src, e.ID()) || deniedSince(src, e, v) })
}

// liftedForNobody says whether all that a clear rests on of a safety valve that lifted again was told by devices whose word counts no more.
func liftedForNobody(src Source, evidence []entry.Verified) bool {
	lifted := func(e entry.Verified) bool {
		var x model.ValveTest
		return e.Body().Kind == model.KindValveTest && e.Body().Decode(&x) == nil && x.Lifted
	}
	return slices.ContainsFunc(evidence, lifted) && !slices.ContainsFunc(evidence, func(e entry.Verified) bool { return lifted(e) && !CountsNoMore(src, e) })
}

// deniedSince says whether a negative spore test that an entry rests on proves nothing any more: its reader, or who laid it in, was taken out since before it, or somebody told of the test otherwise whom the entry
// did not know of.
func deniedSince(src Source, read, by entry.Verified) bool {
	var r model.SporeRead
	if read.Body().Kind != model.KindSporeRead || read.Body().Decode(&r) != nil || r.Grew { // of a growth: it is what is lifted
		return false
	}
	if src.Roster().Gone(read) {
		return true
	}
	for _, ref := range read.Body().Refs() {
		if ref.Noun != model.NounTest {
			continue
		}
		laid := TargetingKind(src, ref, model.KindSporePlaced)
		if len(laid) > 0 && !slices.ContainsFunc(laid, func(v entry.Verified) bool { return !src.Roster().Gone(v) }) {
			return true
		}
		if slices.ContainsFunc(src.Targeting(ref), func(v entry.Verified) bool {
			var o model.SporeRead
			if v.Body().Kind != model.KindSporeRead || !src.Roster().Known(v) || slices.Contains(by.Body().Relies, v.ID()) {
				return false
			}
			return v.Body().Decode(&o) != nil || o.Grew || (src.Roster().Together(v, read) && r.ControlGrew && !o.ControlGrew)
		}) {
			return true
		}
	}
	return false
}

// amendedJudged says whether a known device corrected the entry in a field that a
// verdict rests on, or in a way that cannot be read.
func amendedJudged(src Source, id entry.ID) bool {
	for _, v := range src.Amending(id) {
		var a model.Amended
		if src.Roster().Known(v) && (v.Body().Decode(&a) != nil || !a.Harmless()) {
			return true
		}
	}
	return false
}
