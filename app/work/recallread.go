package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Reading what was said of recalls.

// recallWords reads what was said of a recall.
func (d *Desk) recallWords(id model.ID, st register.State) (r Recall, told []toldBy) {
	r.ID, r.Sum, r.Drill = id, map[Whereabouts]int{}, true
	for _, v := range st.Entries {
		var w model.Recall
		var t model.RecallTold
		var e model.RecallClosed
		switch b := v.Body(); {
		case b.Kind == model.KindRecall && b.Decode(&w) == nil:
			r.words, r.said = append(r.words, v.ID()), append(r.said, w)
			if r.Number == 0 {
				r.Number, r.Why, r.Cause, r.Reason = w.Number, w.Why, w.Cause, w.Reason
			}
			if w.Reason != "" && !strings.Contains(r.Reason, w.Reason) { // why it was widened
				r.Reason += " · " + w.Reason
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
			told = append(told, d.whoTold(t, v))
		case b.Kind == model.KindRecallEnd && b.Decode(&e) == nil && d.heardOn(st, v):
			r.ends, r.EndBy = append(r.ends, e), v
		}
	}
	return r, told
}

// wordsFor are the words of a recall for one cause: for a second growth those loads are in it too that were lit knowing of the first.
func (r *Recall) wordsFor(cause model.ID) (out []entry.ID) {
	if r == nil {
		return nil
	}
	for i, w := range r.said {
		if w.Cause == cause {
			out = append(out, r.words[i])
		}
	}
	return out
}

// toldBy is what was told of a recall, by whom.
type toldBy struct {
	model.RecallTold
	site   model.ID
	office bool
}

func (d *Desk) whoTold(t model.RecallTold, v entry.Verified) (x toldBy) {
	x.RecallTold = t
	_ = d.read(func(src register.Source) { // an unreadable register is told elsewhere: nobody's word counts then
		x.site, _ = src.Roster().SiteOf(v)
		dev, _ := src.Roster().By(v)
		x.office = dev.Office
	})
	return x
}

// answersFor says whether who told answers for a pack: the office, who made it, who has it, or where it was used.
func (x toldBy) answersFor(p PackView) bool {
	return (x.office && p.heeds) || x.site == p.House || x.site == p.At || slices.Contains(p.usedAt, x.site)
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
		yes = yes || (src.Roster().Allows(v) && v.Body().Kind == model.KindRecallTold) // or of a clinic that has packs of it: it answers for these alone
	})
	return err == nil && yes
}

// close says whether a recall is over: each of its ends answers for some packs and loads, and together for all that it is about now.
func (r *Recall) close() {
	if len(r.ends) == 0 {
		return
	}
	for _, id := range r.absent {
		if !slices.ContainsFunc(r.ends, func(e model.RecallClosed) bool { return slices.Contains(e.Absent, id) }) {
			return
		}
	}
	for _, l := range r.Loads {
		for _, q := range l.Squares {
			if !slices.ContainsFunc(r.ends, func(e model.RecallClosed) bool { return answers(e, q, l.Freed) }) {
				return
			}
		}
	}
	r.Closed, r.Ended, r.Short = true, r.ends[len(r.ends)-1].Reason, r.Total-r.Found
}

// answers says whether an end answers for a pack as it stands now: it is accounted for, or was left by a signed reason, in knowledge of each use that nobody was told of. What became of a load
// that was freed by name since opens nothing again.
func answers(e model.RecallClosed, q Square, freed bool) bool {
	if !slices.Contains(e.Packs, q.Pack) {
		return false
	}
	if freed {
		return true
	}
	if q.Owed && (!slices.Contains(e.Untold, q.Pack) || slices.ContainsFunc(q.untold, func(u []byte) bool { return !hasUse(e.Uses, u) })) {
		return false
	}
	return q.Found || slices.Contains(e.Left, q.Pack)
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
