package work

import (
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Bringing a stopped pot back: the hold is lifted for what shows that its cause is mended, and the loads of the bad time stay held.

// BackToService lifts the holds of one code on a pot: a valve that lifts again, or three valid negative spore tests in cycles begun
// after the positive was read. The person in charge answers for it by name and reason.
func (d *Desk) BackToService(pot Pot, code, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if strings.TrimSpace(reason) == "" {
		return refuse("reason-missing")
	}
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return err
	}
	var ids, relies []entry.ID
	var last entry.Verified
	for _, h := range st.Holds {
		if h.Open() && h.Code == code {
			ids, relies = append(ids, h.ID), append(relies, h.Cause.ID())
			if last.IsZero() || entry.Less(last, h.Cause) < 0 {
				last = h.Cause
			}
		}
	}
	if len(ids) == 0 {
		return refuse("nothing-to-clear")
	}
	proof, err := d.proofOf(pot, st, code, last)
	if err != nil {
		return err
	}
	relies = append(relies, proof...)
	if err := d.read(func(src register.Source) { relies = append(relies, d.authority(src, st.Ref)...) }); err != nil {
		return err
	}
	clear := model.Clear{Reason: strings.TrimSpace(reason)}
	drafts := []entry.Draft{{Kind: model.KindClear, Targets: []model.Ref{st.Ref}, Clears: ids, Relies: relies, Payload: &clear}}
	if code == register.HoldSpore {
		if clear.Knew, clear.SlipsFrom, err = d.knownOf(pot); err != nil {
			return err
		}
		var grew []entry.Verified
		for _, h := range st.Holds {
			if h.Open() && h.Code == code {
				grew = append(grew, h.Cause)
			}
		}
		stay, leant, err := d.stayHeld(pot, grew)
		if err != nil {
			return err
		}
		rules, err := d.Rules()
		if err != nil {
			return err
		}
		if !rules.On(model.PolicyRecallWide) { // no recall reaches further back where the test that bounds the bad time proves nothing any more: the pot is stopped anew
			drafts[0].Relies = append(drafts[0].Relies, leant...)
		}
		drafts = append(stay, drafts...)
	}
	_, err = d.sign(drafts...)
	return err
}

// knownOf is how far each stream that lit a pot is known here, and the day from which a load on paper is taken for one after the bad time: none, where the date is in doubt.
func (d *Desk) knownOf(pot Pot) (knew []model.KnownUpTo, slipsFrom int64, err error) {
	ids, err := d.Store.CyclesOf(pot.ID, 100_000)
	if err != nil {
		return nil, 0, d.unread(err)
	}
	lit := map[entry.Stream]bool{}
	for _, id := range ids {
		c, err := d.beginning(id)
		if err != nil {
			return nil, 0, err
		}
		for _, v := range c.State.Entries {
			lit[v.Body().Stream] = true
		}
	}
	heads, err := d.Store.Heads()
	if err != nil {
		return nil, 0, d.unread(err)
	}
	for _, h := range heads {
		if lit[h.Stream] {
			knew = append(knew, model.KnownUpTo{Stream: h.Stream[:], Seq: int64(h.Seq)})
		}
	}
	if !d.ClockDoubtful() {
		now, err := d.Date()
		if err != nil {
			return nil, 0, err
		}
		slipsFrom = max(now.UnixMilli(), d.newest().UnixMilli())
	}
	return knew, slipsFrom, nil
}

// stayHeld holds each load of the bad time by itself before the pot's own hold is lifted: for each growth all that was not provably begun before the cycle of the last
// valid negative test that lies provably before the cycle that grew. A pot that is good again makes no earlier load good. leant are the readings of those tests.
func (d *Desk) stayHeld(pot Pot, grew []entry.Verified) (out []entry.Draft, leant []entry.ID, err error) {
	ids, err := d.Store.CyclesOf(pot.ID, 100_000)
	if err != nil {
		return nil, nil, d.unread(err)
	}
	safe := map[model.ID]int{} // for how many of the growths a load lies before the bad time
	for _, g := range grew {
		good, err := d.lastGood(pot.ID, cyclesOf(g), g)
		if err != nil {
			return nil, nil, err
		}
		if !good.ReadBy.IsZero() {
			leant = append(leant, good.ReadBy.ID())
		}
		before, err := d.upTo(good.Placed.Cycle)
		if err != nil {
			return nil, nil, err
		}
		for id := range before {
			safe[id]++
		}
	}
	for _, id := range ids {
		if safe[id] == len(grew) {
			continue
		}
		c, err := d.Cycle(id)
		if err != nil {
			return nil, nil, err
		}
		if len(c.Begun.Packs) > 0 {
			out = append(out, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{c.State.Ref}, Payload: model.Hold{Code: HoldStopped, Reason: register.HoldSpore}})
		}
	}
	return out, leant, nil
}

// cyclesOf are the cycles that an entry is about.
func cyclesOf(v entry.Verified) (out []model.ID) {
	for _, r := range v.Body().Refs() {
		if r.Noun == model.NounCycle {
			out = append(out, r.ID)
		}
	}
	return out
}

// provablyBefore are the cycles that a cycle names as the latest before it, and those that these name, and so on: the order of a pot's cycles is what was known, no
// number and no clock.
func (d *Desk) provablyBefore(cycles []model.ID) (map[model.ID]bool, error) {
	out := map[model.ID]bool{}
	for next := slices.Clone(cycles); len(next) > 0; {
		id := next[0]
		next = next[1:]
		if id.IsZero() {
			continue
		}
		c, err := d.beginning(id)
		if isRefusal(err, "no-such-cycle") {
			continue
		}
		if err != nil {
			return nil, err
		}
		if d.gone(c.Entry) {
			continue
		}
		after, err := d.aftersOf(c)
		if err != nil {
			return nil, err
		}
		for _, b := range after {
			if !out[b] {
				out[b] = true
				next = append(next, b)
			}
		}
	}
	return out, nil
}

// aftersOf are the cycles that every beginning of a cycle names as the latest before it. What a slip names counts only where its day is later: it was written down at the fire, and typed in when
// others were known already.
func (d *Desk) aftersOf(c register.Cycle) (out []model.ID, err error) {
	first := true
	for _, v := range c.State.Entries {
		var x model.CycleBegun
		if v.Body().Kind != model.KindCycleBegun {
			continue
		}
		if v.Body().Decode(&x) != nil {
			return nil, nil
		}
		var named []model.ID
		for _, b := range x.After {
			if len(b) == len(model.ID{}) {
				named = append(named, model.ID(b))
			}
		}
		if first {
			out, first = named, false
		} else {
			out = slices.DeleteFunc(out, func(id model.ID) bool { return !slices.Contains(named, id) })
		}
		if x.Source != model.FromPaper {
			continue
		}
		lit, known, err := d.Began(c)
		if err != nil {
			return nil, err
		}
		if !known {
			return nil, nil
		}
		if out, err = d.begunBefore(out, lit); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// begunBefore are those of some cycles that were surely begun before a time.
func (d *Desk) begunBefore(ids []model.ID, at time.Time) (out []model.ID, err error) {
	for _, id := range ids {
		c, err := d.beginning(id)
		if isRefusal(err, "no-such-cycle") {
			continue
		}
		if err != nil {
			return nil, err
		}
		if began, known, err := d.Began(c); err != nil {
			return nil, err
		} else if known && began.Before(at) {
			out = append(out, id)
		}
	}
	return out, nil
}
