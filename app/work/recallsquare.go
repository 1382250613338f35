package work

import (
	"bytes"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Where each pack of a recall is.

// fillRecall puts every pack of the loads into its square, once: with the last load that it was in.
func (d *Desk) fillRecall(r *Recall, loads []recalled, told []toldBy) error {
	last := map[model.ID]int{}
	for i, l := range loads {
		for _, id := range packsTold(l.Cycle) {
			last[id] = i
		}
	}
	for i, l := range loads {
		x := RecallLoad{Cycle: l.ID, Number: l.Begun.Number, Patients: true, Test: l.ID == r.Cause || d.testIn(r.Cause, l.Cycle), InPot: l.Unloaded == nil && !l.Aborted() && len(l.Rejected) == 0}
		x.Freed = freedFrom(l.Cycle, r.words)
		for _, h := range l.State.Holds {
			if h.Open() {
				x.held = append(x.held, h.ID)
			}
		}
		ids := slices.DeleteFunc(packsTold(l.Cycle), func(id model.ID) bool { return last[id] != i })
		if r.byReadings() {
			back, err := d.LookBack(l.ID)
			if err != nil {
				return err
			}
			if len(back.Codes) > 0 {
				x.Now, x.Patients = &back.Now, back.Patients() || stoppedElse(l.Cycle, r.words)
			}
		}
		packs, err := d.packs(ids)
		if err != nil {
			return err
		}
		for _, p := range packs {
			s := d.square(p, told)
			free := x.Freed && !slices.ContainsFunc(p.Answer.Holds, func(h register.Hold) bool { return h.Code != register.HoldOpened })
			r.Sum[s.At]++
			r.Total++
			if s.Owed = s.At == AtUsed && !s.Told && !r.Drill && x.Patients && !free; s.Owed {
				r.Untold++
				s.Found = false
			}
			if free { // somebody answered for its load by name, and nothing else stops it
				s.Found = true
			}
			if s.Found {
				r.Found++
			}
			x.Squares = append(x.Squares, s)
		}
		r.Loads = append(r.Loads, x)
	}
	r.Answered = len(told) > 0 || r.Sum[AtAside] > 0
	return nil
}

// stoppedElse says whether something stops a load beside what was found out later and the recall itself: that its readings guarantee the dose says nothing of a strip that failed.
func stoppedElse(c register.Cycle, words []entry.ID) bool {
	return slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool {
		return h.Open() && !slices.Contains(register.Doubts, h.Code) && h.Code != register.HoldRecalled && !slices.Contains(words, h.Cause.ID())
	})
}

func hasUse(uses [][]byte, u []byte) bool {
	return slices.ContainsFunc(uses, func(o []byte) bool { return bytes.Equal(o, u) })
}

// packsTold are the packs of a load by every word on its beginning: where two tell it differently, each may be in it.
func packsTold(c register.Cycle) (out []model.ID) {
	add := func(all []model.LoadPack) {
		for _, p := range all {
			if !slices.Contains(out, p.ID) {
				out = append(out, p.ID)
			}
		}
	}
	add(c.Begun.Packs)
	for _, v := range c.State.Entries {
		var b model.CycleBegun
		if v.Body().Kind == model.KindCycleBegun && v.Body().Decode(&b) == nil {
			add(b.Packs)
		}
	}
	return out
}

// freedFrom says whether a load was held by a recall, and was freed from it by name.
func freedFrom(c register.Cycle, words []entry.ID) (freed bool) {
	for _, h := range c.State.Holds {
		if slices.Contains(words, h.Cause.ID()) {
			if h.Open() {
				return false
			}
			freed = true
		}
	}
	return freed
}

// testIn says whether a spore test lay in a load.
func (d *Desk) testIn(test model.ID, c register.Cycle) bool {
	return slices.ContainsFunc(c.State.Entries, func(v entry.Verified) bool {
		return v.Body().Kind == model.KindSporePlaced && slices.Contains(v.Body().Refs(), model.Ref{Noun: model.NounTest, ID: test})
	})
}

// square says where a pack is.
func (d *Desk) square(p PackView, told []toldBy) Square {
	s := Square{Pack: p.ID, Label: p.Label, Set: p.Set, Use: d.usesOf(p), Noted: len(p.Uses) > 0, uses: p.Uses}
	seen, lost := false, p.NotFound
	var toldOf [][]byte
	plainly := false // by an entry that names no use
	for _, t := range told {
		if !slices.Contains(t.Packs, p.ID) || (t.What != model.SoughtLost && !t.answersFor(p)) { // that it was not found is bad news, whoever says so
			continue
		}
		switch t.What {
		case model.SoughtSeen:
			seen, lost = true, false
		case model.SoughtLost:
			seen, lost = false, true
		case model.SoughtClinician:
			toldOf, plainly = append(toldOf, t.Uses...), plainly || len(t.Uses) == 0
		}
	}
	for _, u := range p.Uses {
		if !hasUse(toldOf, u) {
			s.untold = append(s.untold, u)
		}
	}
	s.Told = (plainly && len(p.Uses) == 0) || (len(p.Uses) > 0 && len(s.untold) == 0)
	if last := d.whereTo(p); last != "?" {
		s.To = last
	}
	if p.At != p.House { // not at the clinic that made it
		s.Site = p.At
	}
	switch {
	case p.Used:
		s.At = AtUsed
		if at, known, err := d.Corrected(p.OpenedBy); err == nil && known { // an unreadable register is told elsewhere
			s.Day = at
		}
	case p.ended:
		s.At = AtEnded
	case p.Where() == model.MoveAside:
		s.At = AtAside
	case lost:
		s.At = AtLost
	case !s.Site.IsZero():
		s.At = AtElsewhere
	case p.Pack.Out():
		s.At = AtIssued
	default:
		s.At = AtShelf
	}
	s.Found = s.At == AtUsed || s.At == AtEnded || s.At == AtAside || (seen && s.At != AtLost)
	return s
}

// byReadings says that a recall is for nothing but what the readings can answer: a gauge, or an altitude. One that was widened by hand is for another reason, too.
func (r Recall) byReadings() bool {
	return len(r.said) > 0 && !slices.ContainsFunc(r.said, func(w model.Recall) bool {
		return w.Wide || (w.Why != model.RecallGauge && w.Why != model.RecallAltitude)
	})
}
