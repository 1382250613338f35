package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Answering for loads in doubt.

// Settled is what came of looking back on a pot: loads freed, called back, and left in doubt until somebody answers for their dates.
type Settled struct{ Stood, Called, Dates int }

// SettleDoubt answers for the loads of a pot that are in doubt: those that stand are cleared by name, the others are called back. The one in charge answers for it.
func (d *Desk) SettleDoubt(pot model.ID, reason string) (out Settled, err error) {
	if err := d.mayManage(); err != nil {
		return out, err
	}
	if reason = strings.TrimSpace(reason); reason == "" {
		return out, refuse("reason-missing")
	}
	all, err := d.InDoubt(pot)
	if err != nil {
		return out, err
	}
	var drafts []entry.Draft
	var known []entry.ID // what put those in doubt that fall: they are called back in knowledge of it
	fall := map[model.RecallWhy][]model.ID{}
	for _, l := range all {
		switch {
		case l.Stands:
			x, err := d.clearing(l, reason)
			if err != nil {
				return out, err
			}
			drafts, out.Stood = append(drafts, x), out.Stood+1
		case l.Dates && !l.Called:
			out.Dates++
		case !l.Called:
			for _, id := range l.causes {
				if !slices.Contains(known, id) {
					known = append(known, id)
				}
			}
			why := model.RecallAltitude
			if slices.ContainsFunc(l.Codes, func(code string) bool { return code != register.HoldHeight }) {
				why = model.RecallGauge
			}
			fall[why], out.Called = append(fall[why], l.ID), out.Called+1
		}
	}
	for _, why := range model.RecallWhys {
		if len(fall[why]) == 0 {
			continue
		}
		words, err := d.recallDrafts(d.NewID(), RecallForm{Why: why, Loads: fall[why], Pot: pot, Reason: reason, lookedBack: true}, nil)
		if err != nil {
			return out, err
		}
		for i := range words {
			words[i].Relies = append(words[i].Relies, known[max(0, len(known)-mostKnown):]...)
		}
		drafts = append(drafts, words...)
	}
	if len(drafts) == 0 && out.Dates > 0 {
		return out, refuse("dates-first", strconv.Itoa(out.Dates))
	}
	if len(drafts) == 0 {
		return out, refuse("nothing-to-clear")
	}
	_, err = d.sign(drafts...)
	return out, err
}

// SettleByDates frees the loads of a pot that stand if they were lit before another gauge came on: no clock frees a load, the one in charge answers for the dates.
func (d *Desk) SettleByDates(pot model.ID, reason string) (freed int, err error) {
	if err := d.mayManage(); err != nil {
		return 0, err
	}
	if reason = strings.TrimSpace(reason); reason == "" {
		return 0, refuse("reason-missing")
	}
	all, err := d.InDoubt(pot)
	if err != nil {
		return 0, err
	}
	var drafts []entry.Draft
	for _, l := range all {
		if !l.Dates || l.Called {
			continue
		}
		x, err := d.clearing(l, reason)
		if err != nil {
			return 0, err
		}
		drafts = append(drafts, x)
	}
	if len(drafts) == 0 {
		return 0, refuse("nothing-to-clear")
	}
	_, err = d.sign(drafts...)
	return len(drafts), err
}

// mostKnown bounds what a recall says that it was made in knowledge of.
const mostKnown = 500

// clearing clears by name all that was found out of a load which stands, in knowledge of what its readings say.
func (d *Desk) clearing(l LookedBack, reason string) (x entry.Draft, err error) {
	_, stated, err := d.rulesWithEntries()
	if err != nil {
		return x, err
	}
	x = entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.Cycle.State.Ref}, Clears: slices.Clone(l.holds), Relies: append(l.Cycle.Evidence(), l.causes...), Payload: model.Clear{Reason: reason}}
	err = d.read(func(src register.Source) {
		rests := append(d.authority(src, l.Cycle.State.Ref), restsOn(src, l.Cycle)...)
		if id, ok := stated[model.PolicyCompareEvery]; ok {
			rests = append(rests, id)
		}
		for _, id := range rests {
			if !slices.Contains(x.Relies, id) {
				x.Relies = append(x.Relies, id)
			}
		}
	})
	return x, err
}

// calledBack are the loads of recalls that are not over, of the clinics where a pot was. A drill calls nothing back.
func (d *Desk) calledBack(pot model.ID) (map[model.ID]bool, error) {
	sites, err := d.Store.SitesOf(pot)
	if err != nil {
		return nil, d.unread(err)
	}
	all, err := d.recalls(func(h recallHead) bool { return !h.Drill && slices.ContainsFunc(sites, h.About) })
	out := map[model.ID]bool{}
	for _, r := range all {
		if r.Closed {
			continue
		}
		for _, l := range r.Loads {
			out[l.Cycle] = out[l.Cycle] || !l.Freed // what was freed by name on it, nothing of it holds
		}
	}
	return out, err
}

// todayDoubt says how many loads of a pot are in doubt and wait for somebody to look back. Those that a recall still holds are answered for there; doubted are the others.
func (d *Desk) todayDoubt(p Place, called map[model.ID]bool, add func(Urgency, string, string, model.ID, ...string)) (doubted map[model.ID]bool, err error) {
	doubted = map[model.ID]bool{}
	for _, pot := range p.Pots {
		ids, err := d.openCycles()
		if err != nil {
			return nil, err
		}
		n := 0
		for _, id := range ids {
			c, err := d.Cycle(id)
			if err != nil {
				return nil, err
			}
			if c.Begun.Sterilizer == pot.ID && c.State.Doubted() && (!called[id] || onlyDoubted(c)) {
				n++
				doubted[id] = true
			}
		}
		if n > 0 {
			add(Stop, "in-doubt", "lookback", pot.ID, short(float64(n)))
		}
	}
	return doubted, nil
}

// stopFreedByDates stops the loads of our pots that somebody freed because they were lit before another gauge came on, and that were not by what is known of the dates now.
func (d *Desk) stopFreedByDates() error {
	place, err := d.Place()
	if err != nil {
		return err
	}
	var drafts []entry.Draft
	for _, pot := range place.Pots {
		told, _, err := d.toldOf(pot)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(told, register.SaysScrewedOn) {
			continue
		}
		ids, err := d.Store.CyclesOf(pot.ID, mostLookedBack)
		if err != nil {
			return d.unread(err)
		}
		for _, id := range ids {
			c, err := d.Cycle(id)
			if err != nil {
				return err
			}
			if c.State.Stopped() || len(c.Rejected) > 0 || !slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool { return h.Code == register.HoldSwapped }) {
				continue
			}
			l, err := d.LookBack(id)
			if err != nil {
				return err
			}
			if !l.Stands && !l.Dates {
				drafts = append(drafts, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{c.State.Ref}, Payload: model.Hold{Code: HoldStopped, Reason: "dates"}})
			}
		}
	}
	if len(drafts) == 0 {
		return nil
	}
	_, err = d.sign(drafts...)
	return err
}

// restsOn are the words that count by which a load is looked back on: comparisons and dials of its gauges, and the altitude of its clinic. Where one of them counts no more, what was freed by it is not.
func restsOn(src register.Source, c register.Cycle) (out []entry.ID) {
	add := func(vs []entry.Verified) {
		for _, v := range vs {
			if !register.CountsNoMore(src, v) && (v.Body().Kind != model.KindCompared || register.Vouches(src, v)) {
				out = append(out, v.ID())
			}
		}
	}
	for _, gauge := range register.GaugesOf(src, c) {
		ref := model.Ref{Noun: model.NounGauge, ID: gauge}
		force, _ := comparisonsInForce(src, ref)
		add(force)
		add(register.Values(register.Of(src, ref), model.KindGauge))
	}
	if house, ok := register.House(src, c.State.Ref); ok {
		add(register.Values(register.Of(src, model.Ref{Noun: model.NounSite, ID: house}), model.KindSite))
	}
	return out
}
