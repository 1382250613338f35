package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Cycle is one cycle as its entries tell it. Facts only; what the readings show is
// for package assess.
type Cycle struct {
	State     State
	Entry     entry.Verified // the first entry
	Begun     model.CycleBegun
	Steps     []model.Step
	Readings  []model.Reading // by time
	Paper     bool            // at least one reading came from a slip
	Breaks    []model.Interrupted
	Closed    *model.CycleClosed
	Unloaded  *model.Unloaded   // the latest look at the packs
	BadPacks  map[model.ID]bool // found wet, torn or unchanged in any look
	Witness   *model.Witness    // the worst one told
	Incidents []model.Incident
	Released  []entry.Verified
	ToConfirm bool // released, and no release counts now: its device was removed or forked since, or facts came that it did not know. Somebody looks again
	Rejected  []entry.Verified
	Amended   bool // a field that a verdict rests on was corrected

	doubtedBegun bool // its first entry is by a device whose word does not count: another takes its place
	doubts       func(entry.Verified) bool
}

// CycleOf reads a cycle; ok is false where its first entry is not here.
func CycleOf(src Source, id model.ID) (c Cycle, ok bool) {
	c.State = Of(src, model.Ref{Noun: model.NounCycle, ID: id})
	tell := tellerOf(src, c.State.Ref)
	c.doubtsBy(src, tell)
	for _, v := range c.State.Entries {
		if !passed(tell, v, model.ID{}) {
			c.take(v, &ok)
		}
	}
	c.ToConfirm = len(c.Released) > 0 && !slices.ContainsFunc(c.Released, func(v entry.Verified) bool {
		counts, _ := releases(src, v, c.State.Ref)
		return counts
	})
	slices.SortStableFunc(c.Steps, func(a, b model.Step) int { return int(a.At - b.At) })
	slices.SortStableFunc(c.Readings, func(a, b model.Reading) int { return int(a.At - b.At) })
	return c, ok
}

// doubtsBy has a beginning by a device whose word does not count give way to another.
func (c *Cycle) doubtsBy(src Source, tell teller) {
	c.doubts = func(v entry.Verified) bool { return src.Roster().Gone(v) || !(tell.nobody || tell.speaks(v)) }
}

// passed says whether an entry is passed over: its author's word does not count for the good (a device that was removed, or of a site that does not speak for the noun, nor has
// it), and it could be nothing but good news: that a pot is out, that the inside of a pack was hot. Bad news is not passed over, whoever tells it.
func passed(tell teller, v entry.Verified, at model.ID) bool {
	gone := tell.src.Roster().Gone(v)
	if !gone && tell.hears(v, at) {
		return false
	}
	switch b := v.Body(); b.Kind {
	case model.KindStep, model.KindReadings:
		return !gone // they hold the load until somebody looks; another's needle shows nothing
	case model.KindUnloaded: // what they found bad is taken below, from the entry itself
		var x model.Unloaded
		return b.Decode(&x) == nil && !slices.ContainsFunc(x.Checks, func(k model.PackCheck) bool { return !k.OK() })
	case model.KindCycleClosed:
		var x model.CycleClosed
		return b.Decode(&x) == nil && x.Outcome == model.RanThrough && !x.BoiledDry
	case model.KindWitness:
		var x model.Witness
		return b.Decode(&x) == nil && x.Reached
	case model.KindSporeRead:
		var x model.SporeRead
		return b.Decode(&x) == nil && !x.Grew
	case model.KindSetCounted:
		var x model.SetCounted
		return b.Decode(&x) == nil && (x.Present >= x.Listed || x.Counted)
	case model.KindPackMoved: // where a pack went is good to know, whoever says it of a device that was ours
		var x model.PackMoved
		return !gone || b.Decode(&x) != nil || x.What == model.MoveBack || x.What == model.MoveStored || x.What == model.MoveAside || !x.Site.IsZero()
	case model.KindShelfCount:
		var x model.ShelfCounted
		return b.Decode(&x) == nil && !slices.Contains(x.Missing, tell.ref.ID)
	case model.KindCareDone, model.KindCompared, model.KindHeightTold, model.KindPieceLost, model.KindLabel:
		return true
	}
	return false
}

func (c *Cycle) take(v entry.Verified, ok *bool) {
	b := v.Body()
	switch b.Kind {
	case model.KindCycleBegun:
		var x model.CycleBegun
		if b.Decode(&x) == nil && (!*ok || c.doubtedBegun) {
			c.Begun, c.Entry, *ok, c.doubtedBegun = x, v, true, c.doubts(v)
		}
	case model.KindStep:
		var s model.Step
		if b.Decode(&s) == nil {
			c.Steps = append(c.Steps, s)
		}
	case model.KindReadings:
		var r model.Readings
		if b.Decode(&r) == nil {
			c.Readings = append(c.Readings, r.List...)
			c.Paper = c.Paper || r.Source == model.FromPaper
		}
	case model.KindInterrupted:
		var i model.Interrupted
		if b.Decode(&i) == nil {
			c.Breaks = append(c.Breaks, i)
		}
	case model.KindCycleClosed:
		var x model.CycleClosed
		if b.Decode(&x) == nil && (c.Closed == nil || x.Outcome == model.Aborted || x.BoiledDry) {
			x.BoiledDry = x.BoiledDry || (c.Closed != nil && c.Closed.BoiledDry) // told once it was so
			c.Closed = &x
		}
	case model.KindUnloaded:
		var u model.Unloaded
		if b.Decode(&u) == nil {
			if !c.doubts(v) { // another's look finds bad packs, and is not the look at the packs
				c.Unloaded = &u
			}
			for _, k := range u.Checks {
				if !k.OK() {
					if c.BadPacks == nil {
						c.BadPacks = map[model.ID]bool{}
					}
					c.BadPacks[k.Pack] = true
				}
			}
		}
	case model.KindWitness:
		var w model.Witness
		if b.Decode(&w) == nil && (c.Witness == nil || !w.Reached) {
			c.Witness = &w
		}
	case model.KindIncident:
		var i model.Incident
		if b.Decode(&i) == nil {
			c.Incidents = append(c.Incidents, i)
		}
	case model.KindRelease:
		c.Released = append(c.Released, v)
	case model.KindReject:
		c.Rejected = append(c.Rejected, v)
	case model.KindAmended:
		var a model.Amended
		c.Amended = c.Amended || b.Decode(&a) != nil || a.Judged
	}
}

// Aborted says that the cycle was given up.
func (c Cycle) Aborted() bool { return c.Closed != nil && c.Closed.Outcome != model.RanThrough }

// Settled says that nothing of the cycle waits for anybody. A trial, with nothing in it but the test pack, is settled by its witness.
func (c Cycle) Settled() bool {
	return c.Aborted() || (len(c.Released) > 0 && !c.ToConfirm) || len(c.Rejected) > 0 || (c.Trial() && c.Closed != nil && c.Witness != nil)
}

// Trial says that nothing but a test pack was in the load.
func (c Cycle) Trial() bool { return len(c.Begun.Packs) == 0 }

// StoppedAgain says that a released load is held by something that came later: it waits for somebody again.
func (c Cycle) StoppedAgain() bool {
	return len(c.Released) > 0 && len(c.Rejected) == 0 && !c.Aborted() && c.State.Stopped()
}

// Step finds the first step of a code.
func (c Cycle) Step(code model.StepCode) (model.Step, bool) {
	for _, s := range c.Steps {
		if s.Code == code {
			return s, true
		}
	}
	return model.Step{}, false
}

// Evidence lists the facts of the cycle, for a release to rely on.
func (c Cycle) Evidence() []entry.ID {
	var out []entry.ID
	for _, v := range c.State.Entries {
		if v.Body().Kind.Class() == model.Fact {
			out = append(out, v.ID())
		}
	}
	return out
}
