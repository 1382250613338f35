package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Recalls that a growth raises by itself, and those that wait on Today.

// growthRecall calls back what a growth speaks against, in the same act that tells of it: by the district's policy every load since the last valid negative, or its own load, and
// all of them once a second test grew. Of a pot that is called back already it widens that.
func (d *Desk) growthRecall(t SporeTest) ([]entry.Draft, error) {
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	open, err := d.recalls(func(h recallHead) bool { return h.Pot == t.Placed.Pot })
	if err != nil {
		return nil, err
	}
	var loads []model.ID
	for _, ref := range t.refs(true) {
		if ref.Noun == model.NounCycle {
			loads = append(loads, ref.ID)
		}
	}
	id := d.NewID()
	var there *Recall
	for _, r := range open {
		if r.Why == model.RecallSpore && r.Pot == t.Placed.Pot && !r.Closed && !r.Drill {
			if r.Cause == t.ID {
				return nil, nil // told of before
			}
			id, there = r.ID, &r
		}
	}
	grown, err := d.grownOf(t.Placed.Pot)
	if err != nil {
		return nil, err
	}
	second := there != nil
	for _, id := range grown { // the pot has not come back since: one bad time
		if id == t.ID {
			continue
		}
		second = true
		x, err := d.SporeTest(id)
		if isRefusal(err, "no-such-test") {
			continue // claimed by a device that is not known here
		}
		if err != nil {
			return nil, err
		}
		loads = append(loads, x.Placed.Cycle)
		if there != nil && there.Cause == id {
			loads = append(loads, there.named...)
		}
	}
	return d.recallDrafts(id, RecallForm{Why: model.RecallSpore, Cause: t.ID, Loads: loads, Pot: t.Placed.Pot, Wide: second || rules.On(model.PolicyRecallWide)}, there)
}

// todayRecalls puts every recall that is not over on top, and a growth that nobody called anything back for. in are their loads; there are the recalls of which at the office a clinic's row
// says it too; under are the loads of those that are open: a line of the recall leads to them.
func (d *Desk) todayRecalls(add func(Urgency, string, string, model.ID, ...string)) (in, there, under map[model.ID]bool, err error) {
	heads, err := d.recallHeads()
	if err != nil {
		return nil, nil, nil, err
	}
	office, err := d.Office()
	if err != nil {
		return nil, nil, nil, err
	}
	var names map[model.ID]string // of the clinics, where there are several
	if office {
		if names, err = d.SiteNames(); err != nil {
			return nil, nil, nil, err
		}
	}
	in, there, under = map[model.ID]bool{}, map[model.ID]bool{}, map[model.ID]bool{}
	called := map[model.ID]bool{}
	for _, h := range heads {
		called[h.Cause] = called[h.Cause] || !h.Drill
		if office && d.over(h) { // of many clinics there are many: whether they are open again is read afterwards (EndedRecall)
			for _, c := range h.named {
				in[c] = in[c] || !h.Drill
			}
			continue
		}
		r, err := d.recallNow(h.ID)
		if err != nil {
			return nil, nil, nil, err
		}
		for _, l := range r.Loads { // of one that is over what came since asks anew
			in[l.Cycle] = in[l.Cycle] || (!r.Drill && (!r.Closed || r.answeredFor(l)))
			under[l.Cycle] = under[l.Cycle] || (!r.Drill && !r.Closed)
		}
		if err := d.beforeTheBadTime(r, in); err != nil {
			return nil, nil, nil, err
		}
		narrow, err := d.TooNarrow(r)
		if err != nil {
			return nil, nil, nil, err
		}
		if narrow {
			add(Stop, "recall-narrow", "recall", r.ID, short(float64(r.Number)))
		}
		if n := r.Left(); r.Closed && !r.Drill && n > 0 {
			add(Stop, "recall-left", "recall", r.ID, short(float64(r.Number)), short(float64(n)))
		}
		if r.Closed {
			continue
		}
		urgency, code := Stop, "recall"
		if r.Drill {
			urgency, code = Soon, "recall-drill"
		}
		there[r.ID] = office && len(r.Sites) > 0
		args := []string{short(float64(r.Number)), short(float64(r.Found)), short(float64(r.Total)), short(float64(r.Untold))}
		if there[r.ID] {
			var at []string
			for _, id := range r.Sites {
				at = append(at, names[id])
			}
			args = append(args, strings.Join(at, ", "))
		}
		add(urgency, code, "recall", r.ID, args...)
	}
	tests, err := d.SporeTests(200)
	for _, t := range tests {
		if t.Said == model.SporePositive && !called[t.ID] && !in[t.Placed.Cycle] {
			add(Stop, "recall-none", "growth", t.ID, short(float64(t.Number)))
		}
	}
	return in, there, under, err
}

// beforeTheBadTime adds the loads that were provably run before the last good test of a growth's recall, also of one that is over: the pot stops them, and nobody speaks against them.
func (d *Desk) beforeTheBadTime(r Recall, in map[model.ID]bool) error {
	if r.Drill || !r.Wide || r.Why != model.RecallSpore {
		return nil
	}
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: r.Pot})
	if err != nil || !slices.Contains(grownIn(st), r.Cause) { // it stops nothing any more
		return err
	}
	if slices.ContainsFunc(st.Holds, func(h register.Hold) bool {
		return h.Open() && h.Code != register.HoldSpore && h.Code != register.HoldValve
	}) { // something else stops it too
		return nil
	}
	before, err := d.upTo(r.after)
	if err != nil {
		return err
	}
	for id := range before {
		if c, err := d.Cycle(id); err == nil && !held(c) {
			in[id] = true
		}
	}
	return nil
}

// grownOf are the tests whose growth stops a pot now.
func (d *Desk) grownOf(pot model.ID) ([]model.ID, error) {
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot})
	return grownIn(st), err
}

func grownIn(pot register.State) (out []model.ID) {
	for _, h := range pot.Holds {
		if !h.Open() || h.Code != register.HoldSpore {
			continue
		}
		for _, r := range h.Cause.Body().Refs() {
			if r.Noun == model.NounTest && !slices.Contains(out, r.ID) {
				out = append(out, r.ID)
			}
		}
	}
	return out
}

// TooNarrow says whether a recall is of single loads although every load since the last good test is to be called back: a second test grew, told of by two devices say, or the rule came later.
func (d *Desk) TooNarrow(r Recall) (bool, error) {
	if r.Wide || r.Drill || r.Why != model.RecallSpore || r.Pot.IsZero() {
		return false, nil
	}
	grown, err := d.grownOf(r.Pot)
	if err != nil || !slices.Contains(grown, r.Cause) {
		return false, err
	}
	others, err := d.recalls(func(h recallHead) bool {
		return h.Pot == r.Pot && h.Wide && !h.Drill && h.Why == model.RecallSpore && slices.Contains(grown, h.Cause)
	})
	if err != nil || len(others) > 0 {
		return false, err
	}
	rules, err := d.Rules()
	return len(grown) > 1 || rules.On(model.PolicyRecallWide), err
}

// answeredFor says whether the end of a recall still answers for one of its loads: nothing has stopped it since.
func (r Recall) answeredFor(l RecallLoad) bool {
	return len(r.ends) > 0 && !slices.ContainsFunc(l.held, func(hold entry.ID) bool {
		return !slices.ContainsFunc(r.ends, func(e model.RecallClosed) bool {
			return slices.ContainsFunc(e.Knew, func(id []byte) bool { return string(id) == string(hold[:]) })
		})
	})
}

// RecallGrowth calls back for a growth that nobody called anything back for: one that was told of elsewhere, or before this program did so by itself.
func (d *Desk) RecallGrowth(test model.ID) error {
	t, err := d.SporeTest(test)
	if err != nil {
		return err
	}
	if t.Said != model.SporePositive {
		return refuse("recall-why")
	}
	drafts, err := d.growthRecall(t)
	if err != nil || len(drafts) == 0 {
		return err
	}
	_, err = d.sign(drafts...)
	return err
}
