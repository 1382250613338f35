package work

import (
	"mvuke/model"
	"mvuke/model/entry"
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
			loads = append(loads, r.named...)
		}
	}
	x, err := d.recallDraft(id, RecallForm{Why: model.RecallSpore, Cause: t.ID, Loads: loads, Pot: t.Placed.Pot, Wide: there != nil || rules.On(model.PolicyRecallWide)}, there)
	return []entry.Draft{x}, err
}

// todayRecalls puts every recall that is not over on top, and a growth that nobody called anything back for. in are their loads; there are the recalls of which at the office a clinic's row
// says it too.
func (d *Desk) todayRecalls(add func(Urgency, string, string, model.ID, ...string)) (in, there map[model.ID]bool, err error) {
	heads, err := d.recallHeads()
	if err != nil {
		return nil, nil, err
	}
	office, err := d.Office()
	if err != nil {
		return nil, nil, err
	}
	in, there = map[model.ID]bool{}, map[model.ID]bool{}
	called := map[model.ID]bool{}
	for _, h := range heads {
		called[h.Cause] = called[h.Cause] || !h.Drill
		if office && d.over(h) { // of many clinics there are many: whether they are open again is read afterwards (EndedRecall)
			for _, c := range h.named {
				in[c] = in[c] || !h.Drill
			}
			continue
		}
		r, err := d.Recall(h.ID)
		if err != nil {
			return nil, nil, err
		}
		for _, l := range r.Loads { // also of one that is over: somebody answered for it
			in[l.Cycle] = in[l.Cycle] || !r.Drill
		}
		if r.Closed {
			continue
		}
		urgency, code := Stop, "recall"
		if r.Drill {
			urgency, code = Soon, "recall-drill"
		}
		there[r.ID] = office && len(r.Sites) > 0
		add(urgency, code, "recall", r.ID, short(float64(r.Number)), short(float64(r.Found)), short(float64(r.Total)), short(float64(r.Untold)))
		if r.Drill || !r.Wide || r.Why != model.RecallSpore {
			continue
		}
		before, err := d.upTo(r.after) // provably before the last good test: the pot stops them, and nobody speaks against them
		if err != nil {
			return nil, nil, err
		}
		for id := range before {
			if c, err := d.Cycle(id); err == nil && !held(c) {
				in[id] = true
			}
		}
	}
	tests, err := d.SporeTests(200)
	for _, t := range tests {
		if t.Said == model.SporePositive && !called[t.ID] && !in[t.Placed.Cycle] {
			add(Stop, "recall-none", "growth", t.ID, short(float64(t.Number)))
		}
	}
	return in, there, err
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
