package register

import (
	"bytes"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Codes of holds; the catalogue has a sentence for each.
const (
	HoldRejected   = "rejected"
	HoldAborted    = "aborted"
	HoldPack       = "pack-not-good"
	HoldWetLoad    = "wet-load"
	HoldWitness    = "witness-not-reached"
	HoldIncident   = "incident"
	HoldAmended    = "amended"
	HoldOpened     = "opened"
	HoldStrip      = "strip-failed"
	HoldSpoilt     = "spoilt"
	HoldSpore      = "spore-grew"
	HoldValve      = "valve-stuck"
	HoldUnknown    = "unknown-safety-kind"
	HoldUnreadable = "unreadable"
	HoldDoubted    = "doubted" // told by a device whose word no longer counts for the good
	HoldTwo        = "told-twice"
	HoldRecalled   = "recalled"
)

// Doubts are the codes of what was found out later, and that looking back answers.
var Doubts = []string{HoldGauge, HoldSwapped, HoldDial, HoldHeight}

// Codes are those of some holds, each once.
func Codes(holds []Hold) (out []string) {
	for _, h := range holds {
		if !slices.Contains(out, h.Code) {
			out = append(out, h.Code)
		}
	}
	return out
}

// Stopped says that something open holds a noun.
func (st State) Stopped() bool { return slices.ContainsFunc(st.Holds, Hold.Open) }

// Doubted says that something open that was found out later does.
func (st State) Doubted() bool {
	return slices.ContainsFunc(st.Holds, func(h Hold) bool { return h.Open() && slices.Contains(Doubts, h.Code) })
}

// Unanswered says that something open that was found out later does, and nobody called it back in knowledge of that: somebody is to look back on it.
func (st State) Unanswered() bool {
	return slices.ContainsFunc(st.Holds, func(h Hold) bool {
		return h.Open() && slices.Contains(Doubts, h.Code) && !slices.ContainsFunc(st.Holds, func(r Hold) bool {
			return r.Open() && r.Code == HoldRecalled && slices.Contains(r.Cause.Body().Relies, h.Cause.ID())
		})
	})
}

type derived struct {
	code  string
	final bool
}

// holdsOf are the holds that an entry lays on one of its targets by itself. A payload that
// cannot be read in a kind that could have been bad counts as bad.
func holdsOf(src Source, v entry.Verified, ref model.Ref) []derived {
	return holdsBy(tellerOf(src, ref), v, ref)
}

func holdsBy(tell teller, v entry.Verified, ref model.Ref) []derived {
	b, src := v.Body(), tell.src
	one := func(code string, final bool) []derived { return []derived{{code, final}} }
	switch b.Kind {
	case model.KindCycleBegun:
		return append(append(unreadable[model.CycleBegun](b), twoPots(b, ref)...), doubted(tell, v, ref, model.NounCycle)...)
	case model.KindStep:
		return append(unreadable[model.Step](b), doubted(tell, v, ref, model.NounCycle)...)
	case model.KindReadings:
		return append(unreadable[model.Readings](b), doubted(tell, v, ref, model.NounCycle)...)
	case model.KindInterrupted:
		return append(unreadable[model.Interrupted](b), doubted(tell, v, ref, model.NounCycle)...)
	case model.KindPackMade:
		return doubted(tell, v, ref, model.NounPack)
	case model.KindHold:
		var h model.Hold
		if b.Decode(&h) != nil || h.Code == "" {
			return one(HoldUnreadable, false)
		}
		return one(h.Code, false)
	case model.KindReject:
		return one(HoldRejected, true)
	case model.KindRecall:
		var r model.Recall
		if ref.Noun == model.NounCycle && (b.Decode(&r) != nil || !r.Drill) {
			return one(HoldRecalled, false)
		}
	case model.KindCycleClosed:
		var c model.CycleClosed
		switch {
		case ref.Noun == model.NounSterilizer: // told of the pot where it boiled dry; what came out of it is held by its load
			return nil
		case b.Decode(&c) != nil:
			return one(HoldUnreadable, false)
		case c.Outcome != model.RanThrough:
			return one(HoldAborted, true)
		case c.BoiledDry:
			return one(HoldIncident, true)
		}
	case model.KindUnloaded:
		return unloaded(src, v, ref)
	case model.KindWitness:
		var w model.Witness
		if b.Decode(&w) != nil {
			return one(HoldUnreadable, false)
		}
		if !w.Reached {
			return one(HoldWitness, false)
		}
	case model.KindIncident:
		var i model.Incident
		if b.Decode(&i) != nil {
			return one(HoldUnreadable, false)
		}
		if i.Code.Bad() && ref.Noun != model.NounSterilizer {
			return one(HoldIncident, true)
		}
	case model.KindPackOpened:
		return opened(b, ref)
	case model.KindPackSpoilt:
		if ref.Noun == model.NounPack { // whatever it says, it was bad news
			return one(HoldSpoilt, true)
		}
	case model.KindSporeRead:
		var r model.SporeRead
		if (b.Decode(&r) != nil || r.Grew) && (ref.Noun == model.NounCycle || ref.Noun == model.NounSterilizer) {
			return one(HoldSpore, false)
		}
	case model.KindValveTest:
		var x model.ValveTest
		if (b.Decode(&x) != nil || !x.Lifted) && ref.Noun == model.NounSterilizer {
			return one(HoldValve, false)
		}
	case model.KindAmended:
		return amended(src, v, ref)
	}
	if b.Kind.Class() == model.Safety && !b.Kind.Known() {
		return one(HoldUnknown, false)
	}
	return nil
}

// opened: a pack is used once. A strip inside that did not reach its end point speaks for the whole load, and so
// does what cannot be read.
func opened(b *entry.Body, ref model.Ref) []derived {
	var o model.PackOpened
	read := b.Decode(&o) == nil
	switch {
	case ref.Noun == model.NounPack && read && !o.Strip.Bad():
		return []derived{{HoldOpened, true}}
	case ref.Noun == model.NounPack:
		return []derived{{HoldStrip, true}}
	case ref.Noun == model.NounCycle && (!read || o.Strip.Bad()):
		return []derived{{HoldStrip, false}}
	}
	return nil
}

// doubted: what a verdict rests on, told by a device that was removed, holds what it speaks of until somebody in charge looks; and so
// does a beginning that is told twice, since one of the two is not what was seen.
func doubted(tell teller, v entry.Verified, ref model.Ref, noun model.Noun) (out []derived) {
	src := tell.src
	if ref.Noun != noun {
		return nil
	}
	if src.Roster().Gone(v) || !tell.own(v) { // so, too, what a clinic tells of another's load
		out = append(out, derived{HoldDoubted, false})
	}
	k := v.Body().Kind
	if k != model.KindCycleBegun && k != model.KindPackMade {
		return out
	}
	for _, w := range src.Targeting(ref) {
		if w.Body().Kind == k && w.ID() != v.ID() && src.Roster().Known(w) && !bytes.Equal(w.Body().Payload, v.Body().Payload) {
			return append(out, derived{HoldTwo, false})
		}
	}
	return out
}

// twoPots: a load belongs to one pot, and its first entry says so twice.
func twoPots(b *entry.Body, ref model.Ref) []derived {
	var c model.CycleBegun
	if ref.Noun != model.NounCycle || b.Decode(&c) != nil || c.Sterilizer.IsZero() {
		return nil
	}
	for _, r := range b.Refs() {
		if r.Noun == model.NounSterilizer && r.ID != c.Sterilizer {
			return []derived{{HoldUnreadable, false}}
		}
	}
	return nil
}

// unreadable: what a verdict rests on and cannot be read may have been the bad news.
func unreadable[T any](b *entry.Body) []derived {
	var x T
	if b.Decode(&x) != nil {
		return []derived{{HoldUnreadable, false}}
	}
	return nil
}

// unloaded: a pack found bad in any look ends; wet packs are counted over all looks at the load.
func unloaded(src Source, v entry.Verified, ref model.Ref) []derived {
	var u model.Unloaded
	if v.Body().Decode(&u) != nil {
		return []derived{{HoldUnreadable, false}}
	}
	if ref.Noun == model.NounPack {
		if badIn(u, ref.ID) {
			return []derived{{HoldPack, true}}
		}
		return nil
	}
	wet := map[model.ID]bool{}
	mine := false
	for _, w := range src.Targeting(ref) {
		var x model.Unloaded
		if w.Body().Kind != model.KindUnloaded || !src.Roster().Known(w) || w.Body().Decode(&x) != nil {
			continue
		}
		for _, c := range x.Checks {
			if !c.Dry {
				wet[c.Pack] = true
				mine = mine || w.ID() == v.ID()
			}
		}
	}
	if ref.Noun == model.NounCycle && mine && len(wet) >= model.WetLoad {
		return []derived{{HoldWetLoad, false}}
	}
	return nil
}

func badIn(u model.Unloaded, pack model.ID) bool {
	for _, c := range u.Checks {
		if c.Pack == pack && !c.OK() {
			return true
		}
	}
	return false
}

// amended: a correction of a bad fact leaves a hold of its own on what the fact held; so does a
// correction that cannot be read, or whose original is not here.
func amended(src Source, v entry.Verified, ref model.Ref) []derived {
	var a model.Amended
	if v.Body().Decode(&a) != nil {
		return []derived{{HoldUnreadable, false}}
	}
	if a.Harmless() {
		return nil
	}
	for _, id := range v.Body().Replaces {
		orig, ok := src.Entry(id)
		if !ok || orig.Body().Kind == model.KindAmended || len(holdsOf(src, orig, ref)) > 0 {
			return []derived{{HoldAmended, false}}
		}
	}
	return nil
}
