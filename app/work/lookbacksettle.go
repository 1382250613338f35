package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Answering for loads in doubt.

// Settled is what came of looking back on a pot.
type Settled struct{ Stood, Called int }

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
	if len(drafts) == 0 {
		return out, refuse("nothing-to-clear")
	}
	_, err = d.sign(drafts...)
	return out, err
}

// mostKnown bounds what a recall says that it was made in knowledge of.
const mostKnown = 500

// clearing clears by name all that was found out of a load which stands, in knowledge of what its readings say.
func (d *Desk) clearing(l LookedBack, reason string) (x entry.Draft, err error) {
	x = entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.Cycle.State.Ref}, Clears: slices.Clone(l.holds), Relies: append(l.Cycle.Evidence(), l.causes...), Payload: model.Clear{Reason: reason}}
	err = d.read(func(src register.Source) { x.Relies = append(x.Relies, d.authority(src, l.Cycle.State.Ref)...) })
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
