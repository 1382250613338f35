package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Calling loads back: opening, telling what came of looking, closing.

// RecallForm opens a recall.
type RecallForm struct {
	Why    model.RecallWhy
	Cause  model.ID   // spore test, cycle or gauge; zero: none
	Loads  []model.ID // these at least
	Pot    model.ID   // of a wide one
	Wide   bool       // every load of the pot since the last valid negative
	Drill  bool
	Reason string
}

// OpenRecall calls loads back. Anybody may: their packs are held at once, here and wherever the next stick goes.
func (d *Desk) OpenRecall(f RecallForm) (model.ID, error) {
	if !slices.Contains(model.RecallWhys, f.Why) {
		return model.ID{}, refuse("recall-why")
	}
	if f.Why == model.RecallHand && strings.TrimSpace(f.Reason) == "" {
		return model.ID{}, refuse("reason-missing")
	}
	id := d.NewID()
	draft, err := d.recallDraft(id, f, nil)
	if err != nil {
		return id, err
	}
	_, err = d.sign(draft)
	return id, err
}

// WidenRecall calls every load back that was not provably before the last valid negative test.
func (d *Desk) WidenRecall(id model.ID, reason string) error {
	r, err := d.Recall(id)
	if err != nil {
		return err
	}
	if r.Wide || r.Pot.IsZero() {
		return refuse("recall-wide")
	}
	draft, err := d.recallDraft(id, RecallForm{Why: r.Why, Cause: r.Cause, Loads: r.named, Pot: r.Pot, Wide: true, Drill: r.Drill, Reason: reason}, &r)
	if err != nil {
		return err
	}
	_, err = d.sign(draft)
	return err
}

// recallDraft is the entry that opens a recall, or widens one that is there.
func (d *Desk) recallDraft(id model.ID, f RecallForm, there *Recall) (x entry.Draft, err error) {
	w := model.Recall{Why: f.Why, Pot: f.Pot, Wide: f.Wide, Cause: f.Cause, Drill: f.Drill, Reason: strings.TrimSpace(f.Reason), At: d.Clock.Now().Wall.UnixMilli()}
	loads, absent, err := d.loadsOf(f.Loads)
	if err != nil {
		return x, err
	}
	if len(loads) == 0 && absent == 0 && !f.Wide {
		return x, refuse("recall-loads")
	}
	for _, l := range loads {
		if w.Pot.IsZero() {
			w.Pot = l.Begun.Sterilizer
		}
	}
	if f.Wide {
		good, err := d.lastGood(w.Pot, f.Loads, entry.Verified{})
		if err != nil {
			return x, err
		}
		w.After = good.Placed.Cycle
		if w.Knew, _, err = d.knownOf(Pot{ID: w.Pot}); err != nil {
			return x, err
		}
	}
	x = entry.Draft{Kind: model.KindRecall, Targets: []model.Ref{recallRef(id)}}
	if there != nil {
		w.Number, x.Replaces = there.Number, there.words
	} else if w.Number, err = d.nextRecall(); err != nil {
		return x, err
	}
	ids, err := d.window([]model.Recall{w}, f.Loads, x.Replaces)
	if err != nil {
		return x, err
	}
	x.Payload = w
	if w.Wide { // what is told of later finds it by its pot
		x.Targets = append(x.Targets, model.Ref{Noun: model.NounSterilizer, ID: w.Pot})
	}
	for _, c := range ids[max(0, len(ids)-mostNamed):] { // the newest
		x.Targets = append(x.Targets, model.Ref{Noun: model.NounCycle, ID: c})
	}
	return x, nil
}

func recallRef(id model.ID) model.Ref { return model.Ref{Noun: model.NounRecall, ID: id} }

// nextRecall is the number of the next recall of our site.
func (d *Desk) nextRecall() (n int64, err error) {
	own, _, err := d.house()
	if err != nil {
		return 0, err
	}
	vs, err := d.Store.ByKind(model.KindRecall, own...)
	if err != nil {
		return 0, d.unread(err)
	}
	for _, v := range vs {
		var w model.Recall
		if v.Body().Decode(&w) == nil {
			n = max(n, w.Number)
		}
	}
	return n + 1, nil
}

// TellRecall says what came of looking for packs of a recall.
func (d *Desk) TellRecall(id model.ID, what model.Sought, packs []model.ID, note string) error {
	r, err := d.Recall(id)
	if err != nil {
		return err
	}
	if what != model.SoughtSeen && what != model.SoughtLost && what != model.SoughtClinician {
		return refuse("recall-what")
	}
	note = strings.TrimSpace(note)
	if what == model.SoughtClinician && note == "" { // by role or initials: the register knows no names of patients, and this is none
		return refuse("recall-told-whom")
	}
	if len(packs) == 0 || slices.ContainsFunc(packs, func(p model.ID) bool { return r.Square(p) == nil }) {
		return refuse("recall-packs")
	}
	told := model.RecallTold{What: what, Packs: packs, Note: note, At: d.Clock.Now().Wall.UnixMilli()}
	if what == model.SoughtClinician {
		for _, p := range packs {
			told.Uses = append(told.Uses, r.Square(p).uses...)
		}
	}
	_, err = d.sign(entry.Draft{Kind: model.KindRecallTold, Targets: []model.Ref{recallRef(id)}, Payload: told})
	return err
}

// CloseRecall ends a recall: with every pack accounted for, or with the reason of the one in charge, which stays.
func (d *Desk) CloseRecall(id model.ID, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	r, err := d.Recall(id)
	if err != nil {
		return err
	}
	if r.Closed {
		return refuse("settled")
	}
	if own, err := d.SiteID(); err != nil {
		return err
	} else if own != r.Site {
		return refuse("recall-theirs")
	}
	e := model.RecallClosed{Reason: strings.TrimSpace(reason), At: d.Clock.Now().Wall.UnixMilli()}
	for _, s := range r.squares() {
		e.Packs = append(e.Packs, s.Pack)
		if !s.Found {
			e.Left = append(e.Left, s.Pack)
		}
		if s.Owed {
			e.Untold = append(e.Untold, s.Pack)
		}
	}
	if e.Reason == "" && (len(e.Left) > 0 || r.Absent > 0 || r.Untold > 0) {
		return refuse("recall-left", short(float64(len(e.Left))), short(float64(r.Untold)))
	}
	if len(e.Packs) > mostNamed { // the reason stands for all
		e.Packs, e.Left, e.Untold, e.All = nil, nil, nil, true
	}
	_, err = d.sign(entry.Draft{Kind: model.KindRecallEnd, Targets: []model.Ref{recallRef(id)}, Payload: e})
	return err
}

// recalled is a load of a recall.
type recalled struct {
	ID model.ID
	register.Cycle
}

// growthRecall calls back what a growth speaks against, in the same act that tells of it: by the district's policy every load since the last valid negative, or its own load, and
// all of them once a second test grew. Of a pot that is called back already it widens that.
func (d *Desk) growthRecall(t SporeTest) ([]entry.Draft, error) {
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	open, err := d.Recalls()
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

// todayRecalls puts every recall that is not over on top, and a growth that nobody called anything back for.
func (d *Desk) todayRecalls(add func(Urgency, string, string, model.ID, ...string)) (in map[model.ID]bool, err error) {
	all, err := d.Recalls()
	if err != nil {
		return nil, err
	}
	in, called := map[model.ID]bool{}, map[model.ID]bool{}
	for _, r := range all {
		called[r.Cause] = called[r.Cause] || !r.Drill
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
		add(urgency, code, "recall", r.ID, short(float64(r.Number)), short(float64(r.Found)), short(float64(r.Total)), short(float64(r.Untold)))
		if r.Drill || !r.Wide || r.Why != model.RecallSpore {
			continue
		}
		before, err := d.upTo(r.after) // provably before the last good test: the pot stops them, and nobody speaks against them
		if err != nil {
			return nil, err
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
	return in, err
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
