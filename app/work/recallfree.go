package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Freeing by name what lies before the bad time of a pot.

// FreeBefore frees by name, from the growths that stop their pot, the loads that were provably run before the last valid negative test: nothing speaks against them. The pot stays
// stopped. The one in charge answers for it.
func (d *Desk) FreeBefore(id model.ID, reason string) (freed int, err error) {
	if err := d.mayManage(); err != nil {
		return 0, err
	}
	if strings.TrimSpace(reason) == "" {
		return 0, refuse("reason-missing")
	}
	drafts, err := d.freeable(id, reason)
	if err != nil {
		return 0, err
	}
	_, err = d.sign(drafts...)
	return len(drafts), err
}

// Freeable is how many loads FreeBefore would free.
func (d *Desk) Freeable(id model.ID) (int, error) {
	drafts, err := d.freeable(id, "")
	return len(drafts), err
}

func (d *Desk) freeable(id model.ID, reason string) (drafts []entry.Draft, err error) {
	r, err := d.Recall(id)
	if err != nil {
		return nil, err
	}
	pot, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: r.Pot})
	if err != nil {
		return nil, err
	}
	var ids, causes []entry.ID
	loads := map[model.ID]int{}
	for _, h := range pot.Holds {
		if !h.Open() || h.Code != register.HoldSpore {
			continue
		}
		ids, causes = append(ids, h.ID), append(causes, h.Cause.ID())
		good, err := d.lastGood(r.Pot, cyclesOf(h.Cause), h.Cause)
		if err != nil {
			return nil, err
		}
		before, err := d.upTo(good.Placed.Cycle)
		if err != nil {
			return nil, err
		}
		for c := range before {
			loads[c]++
		}
		if good.ID.IsZero() {
			continue
		}
		st, err := d.noun(model.Ref{Noun: model.NounTest, ID: good.ID})
		if err != nil {
			return nil, err
		}
		for _, v := range st.Entries { // all that was told of the test: should more be told, nothing is free by it
			causes = append(causes, v.ID())
		}
	}
	for c, n := range loads {
		load, err := d.Cycle(c)
		if err != nil {
			return nil, err
		}
		stops, err := d.StoppedBy(load)
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(stops[c], func(h register.Hold) bool { return slices.Contains(ids, h.ID) }) { // freed already
			continue
		}
		if n < len(ids) || len(load.Begun.Packs) == 0 || len(load.Released) == 0 || held(load) {
			continue
		}
		x := entry.Draft{Kind: model.KindClear, Targets: []model.Ref{load.State.Ref}, Clears: ids, Relies: slices.Clone(causes), Payload: model.Clear{Reason: strings.TrimSpace(reason)}}
		if err := d.read(func(src register.Source) { x.Relies = append(x.Relies, d.authority(src, load.State.Ref)...) }); err != nil {
			return nil, err
		}
		drafts = append(drafts, x)
	}
	if len(drafts) == 0 {
		return nil, refuse("recall-none-before")
	}
	return drafts, nil
}

// FreeStanding frees by name, from a recall that looking back opened, and nobody widened, the loads whose readings show it by all that is known now: the comparison was wrong, say, and was taken back. The one in charge
// answers for it.
func (d *Desk) FreeStanding(id model.ID, reason string) (freed int, err error) {
	if err := d.mayManage(); err != nil {
		return 0, err
	}
	if strings.TrimSpace(reason) == "" {
		return 0, refuse("reason-missing")
	}
	r, err := d.Recall(id)
	if err != nil {
		return 0, err
	}
	drafts, err := d.standingOf(r, reason)
	if err != nil {
		return 0, err
	}
	if len(drafts) == 0 {
		return 0, refuse("recall-none-stands")
	}
	_, err = d.sign(drafts...)
	return len(drafts), err
}

// StandingOf is how many loads FreeStanding would free.
func (d *Desk) StandingOf(r Recall) (int, error) {
	drafts, err := d.standingOf(r, "")
	return len(drafts), err
}

// lookedBackWord says whether a word of a recall was written by looking back: no person called back for more than was found.
func lookedBackWord(v entry.Verified) bool {
	var w model.Recall
	return v.Body().Decode(&w) == nil && w.LookedBack
}

func (d *Desk) standingOf(r Recall, reason string) (drafts []entry.Draft, err error) {
	if r.Closed || r.Drill || (r.Why != model.RecallGauge && r.Why != model.RecallAltitude) {
		return nil, nil
	}
	for _, l := range r.Loads {
		back, err := d.LookBack(l.Cycle)
		if err != nil {
			return nil, err
		}
		all, err := d.StoppedBy(back.Cycle) // on it, and on its pot
		if err != nil {
			return nil, err
		}
		var called, other []register.Hold
		for _, h := range all[l.Cycle] {
			switch {
			case slices.Contains(register.Doubts, h.Code):
			case slices.Contains(r.words, h.Cause.ID()) && lookedBackWord(h.Cause):
				called = append(called, h)
			default:
				other = append(other, h)
			}
		}
		if len(called) == 0 || len(other) > 0 || !back.Stands || len(back.Cycle.Rejected) > 0 {
			continue
		}
		x, err := d.clearing(back, strings.TrimSpace(reason))
		if err != nil {
			return nil, err
		}
		for _, h := range called {
			x.Clears, x.Relies = append(x.Clears, h.ID), append(x.Relies, h.Cause.ID())
		}
		drafts = append(drafts, x)
	}
	return drafts, nil
}
