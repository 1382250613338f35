package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Reading what was said of recalls.

// recallWords reads what was said of a recall.
func (d *Desk) recallWords(id model.ID, st register.State) (r Recall, words []model.Recall, told []model.RecallTold, ends []model.RecallClosed) {
	r.ID, r.Sum, r.Drill = id, map[Whereabouts]int{}, true
	for _, v := range st.Entries {
		var w model.Recall
		var t model.RecallTold
		var e model.RecallClosed
		switch b := v.Body(); {
		case b.Kind == model.KindRecall && b.Decode(&w) == nil:
			words, r.words = append(words, w), append(r.words, v.ID())
			if r.Number == 0 {
				r.Number, r.Why, r.Cause, r.Reason = w.Number, w.Why, w.Cause, w.Reason
			}
			if r.Pot.IsZero() {
				r.Pot = w.Pot
			}
			r.Wide, r.Drill = r.Wide || w.Wide, r.Drill && w.Drill
			for _, c := range cyclesOf(v) {
				if !slices.Contains(r.named, c) {
					r.named = append(r.named, c)
				}
			}
		case b.Kind == model.KindRecallTold && b.Decode(&t) == nil && d.heardOn(st, v):
			told = append(told, t)
		case b.Kind == model.KindRecallEnd && b.Decode(&e) == nil && d.heardOn(st, v):
			ends = append(ends, e)
		}
	}
	return r, words, told, ends
}

// heardOn says whether an entry's device speaks for a recall: of the site that opened it, or of the office.
func (d *Desk) heardOn(st register.State, v entry.Verified) (yes bool) {
	err := d.read(func(src register.Source) {
		yes = src.Roster().Allows(v) && register.Speaks(src, v, st.Ref)
		if v.Body().Kind == model.KindRecallEnd { // only who raised it ends it: others do not see its shelves
			house, ok := register.House(src, st.Ref)
			site, known := src.Roster().SiteOf(v)
			yes = yes && ok && known && site == house
		}
		if site, ok := src.Roster().SiteOf(v); ok && !yes && src.Roster().Allows(v) && v.Body().Kind == model.KindRecallTold { // or of the clinic whose loads they are
			for _, w := range st.Entries {
				for _, c := range cyclesOf(w) {
					house, _ := register.House(src, model.Ref{Noun: model.NounCycle, ID: c})
					yes = yes || house == site
				}
			}
		}
	})
	return err == nil && yes
}

// close says whether a recall is over: one of its ends was written in knowledge of every pack that it is about now.
func (r *Recall) close(ends []model.RecallClosed) {
	for _, e := range ends {
		whole := e.All || !slices.ContainsFunc(r.squares(), func(s Square) bool {
			return !slices.Contains(e.Packs, s.Pack) || (s.Owed && !slices.Contains(e.Untold, s.Pack))
		})
		if whole {
			r.Closed, r.Ended, r.Short = true, e.Reason, len(e.Left)+len(e.Untold)
		}
	}
}

// recallTimes says when it was opened, and how long it took until every pack was accounted for, as far as the dates are not in doubt.
func (d *Desk) recallTimes(r *Recall, st register.State) error {
	for _, v := range st.Entries {
		k := v.Body().Kind
		if k != model.KindRecall && k != model.KindRecallTold && k != model.KindRecallEnd {
			continue
		}
		at, known, err := d.Corrected(v)
		if err != nil {
			return err
		}
		switch {
		case !known:
		case k == model.KindRecall && r.At.IsZero():
			r.At = at
		case !r.At.IsZero() && k != model.KindRecall:
			r.Took = max(r.Took, at.Sub(r.At))
		}
	}
	return nil
}

// Recalls lists those of our site, or at the office of all, the newest first; open ones before those that are closed.
func (d *Desk) Recalls() (out []Recall, err error) {
	office, err := d.Office()
	if err != nil {
		return nil, err
	}
	own, err := d.SiteID()
	if err != nil {
		return nil, err
	}
	var among []entry.Stream
	if !office {
		if _, among, err = d.house(); err != nil {
			return nil, err
		}
	}
	vs, err := d.Store.ByKind(model.KindRecall, among...)
	if err != nil {
		return nil, d.unread(err)
	}
	seen := map[model.ID]bool{}
	for _, v := range slices.Backward(vs) {
		for _, ref := range v.Body().Refs() {
			if ref.Noun != model.NounRecall || seen[ref.ID] {
				continue
			}
			seen[ref.ID] = true
			r, err := d.Recall(ref.ID)
			if isRefusal(err, "no-such-recall") {
				continue // claimed by a device that is not known here
			}
			if err != nil {
				return nil, err
			}
			if ours, err := d.concerns(r, own); err != nil {
				return nil, err
			} else if office || ours {
				out = append(out, r)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Recall) int {
		switch {
		case a.Closed == b.Closed:
			return 0
		case b.Closed:
			return -1
		}
		return 1
	})
	return out, nil
}

// concerns says whether a recall is of a site's loads, or was raised there.
func (d *Desk) concerns(r Recall, site model.ID) (yes bool, err error) {
	if yes = r.Site == site; yes {
		return true, nil
	}
	err = d.read(func(src register.Source) {
		yes = slices.ContainsFunc(r.named, func(id model.ID) bool {
			house, _ := register.House(src, model.Ref{Noun: model.NounCycle, ID: id})
			return house == site
		})
	})
	return yes, err
}
