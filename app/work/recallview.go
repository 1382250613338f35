package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Whereabouts is where a pack of a recall is. Every pack has one, so the sums add up.
type Whereabouts string

// The whereabouts, in the order of harm.
const (
	AtUsed      Whereabouts = "used"      // opened on somebody
	AtLost      Whereabouts = "lost"      // looked for, and not found
	AtIssued    Whereabouts = "issued"    // in a room, or lent: to be called back
	AtElsewhere Whereabouts = "elsewhere" // at another clinic
	AtShelf     Whereabouts = "shelf"     // here: a red tag, and set aside
	AtAside     Whereabouts = "aside"     // found, and set aside
	AtEnded     Whereabouts = "ended"     // unwrapped, torn, or opened and not used
)

// AllWhereabouts are all of them.
var AllWhereabouts = []Whereabouts{AtUsed, AtLost, AtIssued, AtElsewhere, AtShelf, AtAside, AtEnded}

// Square is one pack of a recall.
type Square struct {
	Pack  model.ID
	Label string
	Set   string
	At    Whereabouts
	Site  model.ID // where At is elsewhere, or another clinic answered
	To    string   // to whom it was issued or lent
	Use   string   // register number, where its note lies here
	Found bool     // nobody can use it unawares: used, ended, set aside, or seen
	Told  bool     // of every use of it somebody was told

	Owed bool      // it was opened on somebody, nobody was told, and somebody is to be
	Day  time.Time // on which it was opened on somebody; zero: it was not, or nobody knows

	uses [][]byte
}

// RecallLoad is one load of a recall with its packs. A pack that was in several stands with the last.
type RecallLoad struct {
	Cycle    model.ID
	Number   int64
	Test     bool // the recall comes from this one
	Squares  []Square
	Now      *assess.Result // what the readings show by what was found out since; nil: it is not for that
	Patients bool           // those on whom its packs were opened are listed: but where the readings guarantee the dose all the same
}

// Recall is a recall as it stands.
type Recall struct {
	ID     model.ID
	Number int64
	Why    model.RecallWhy
	Pot    model.ID
	Cause  model.ID
	After  int64 // number of the cycle of the last valid negative; 0: there was none
	Wide   bool
	Drill  bool
	Closed bool
	Reason string // why it was opened
	Ended  string // why it was closed, where packs were left
	Short  int    // packs that were not accounted for when it was closed
	Site   model.ID
	At     time.Time // opened; zero where the date is in doubt
	Took   time.Duration
	Loads  []RecallLoad
	Absent int // loads that were named and are not here
	Found  int // packs
	Untold int // packs used on somebody, of whom nobody was told
	Sum    map[Whereabouts]int
	Total  int

	named []model.ID
	after model.ID
	words []entry.ID // by which it was opened and widened
}

func (r Recall) squares() (out []Square) {
	for _, l := range r.Loads {
		out = append(out, l.Squares...)
	}
	return out
}

// Square is a pack's; nil where the recall is not about it.
func (r Recall) Square(pack model.ID) *Square {
	for i := range r.Loads {
		for j := range r.Loads[i].Squares {
			if r.Loads[i].Squares[j].Pack == pack {
				return &r.Loads[i].Squares[j]
			}
		}
	}
	return nil
}

// Recall reads one, whole.
func (d *Desk) Recall(id model.ID) (r Recall, err error) {
	st, err := d.noun(recallRef(id))
	if err != nil {
		return r, err
	}
	r, words, told, ends := d.recallWords(id, st)
	if len(words) == 0 {
		return r, refuse("no-such-recall")
	}
	if err := d.read(func(src register.Source) { r.Site, _ = register.House(src, st.Ref) }); err != nil {
		return r, err
	}
	for _, w := range words {
		if !w.Wide {
			continue
		}
		if r.after, err = d.leansOn(w, r.named); err != nil {
			return r, err
		}
	}
	r.After = 0
	if c, err := d.Cycle(r.after); err == nil && !r.after.IsZero() {
		r.After = c.Begun.Number
	}
	ids, err := d.window(words, r.named, r.words)
	if err != nil {
		return r, err
	}
	loads, absent, err := d.loadsOf(ids)
	if err != nil {
		return r, err
	}
	r.Absent = absent
	if err := d.fillRecall(&r, loads, told); err != nil {
		return r, err
	}
	r.close(ends)
	return r, d.recallTimes(&r, st)
}

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
			if w.Wide {
				r.after = w.After
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

// fillRecall puts every pack of the loads into its square, once: with the last load that it was in.
func (d *Desk) fillRecall(r *Recall, loads []recalled, told []model.RecallTold) error {
	last := map[model.ID]int{}
	for i, l := range loads {
		for _, p := range l.Begun.Packs {
			last[p.ID] = i
		}
	}
	for i, l := range loads {
		x := RecallLoad{Cycle: l.ID, Number: l.Begun.Number, Patients: true, Test: l.ID == r.Cause || d.testIn(r.Cause, l.Cycle)}
		var ids []model.ID
		for _, p := range l.Begun.Packs {
			if last[p.ID] == i && !slices.Contains(ids, p.ID) {
				ids = append(ids, p.ID)
			}
		}
		if r.Why == model.RecallGauge || r.Why == model.RecallAltitude {
			back, err := d.LookBack(l.ID)
			if err != nil {
				return err
			}
			if len(back.Codes) > 0 {
				x.Now, x.Patients = &back.Now, back.Patients()
			}
		}
		packs, err := d.packs(ids)
		if err != nil {
			return err
		}
		for _, p := range packs {
			s := d.square(p, told)
			r.Sum[s.At]++
			r.Total++
			if s.Owed = s.At == AtUsed && !s.Told && !r.Drill && x.Patients; s.Owed {
				r.Untold++
				s.Found = false
			}
			if s.Found {
				r.Found++
			}
			x.Squares = append(x.Squares, s)
		}
		r.Loads = append(r.Loads, x)
	}
	return nil
}

// testIn says whether a spore test lay in a load.
func (d *Desk) testIn(test model.ID, c register.Cycle) bool {
	return slices.ContainsFunc(c.State.Entries, func(v entry.Verified) bool {
		return v.Body().Kind == model.KindSporePlaced && slices.Contains(v.Body().Refs(), model.Ref{Noun: model.NounTest, ID: test})
	})
}

// square says where a pack is.
func (d *Desk) square(p PackView, told []model.RecallTold) Square {
	s := Square{Pack: p.ID, Label: p.Label, Set: p.Set, Use: d.usesOf(p), uses: p.Uses}
	seen, lost := false, p.NotFound
	var toldOf [][]byte
	plainly := false // by an entry that names no use
	for _, t := range told {
		if !slices.Contains(t.Packs, p.ID) {
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
	s.Told = (plainly && len(p.Uses) == 0) || (len(p.Uses) > 0 && !slices.ContainsFunc(p.Uses, func(u []byte) bool {
		return !slices.ContainsFunc(toldOf, func(o []byte) bool { return string(o) == string(u) })
	}))
	if last := d.whereTo(p); last != "?" {
		s.To = last
	}
	if p.At != p.House { // not at the clinic that made it
		s.Site = p.At
	}
	switch {
	case p.Used:
		s.At = AtUsed
		if p.Opened != nil && p.Opened.At > 0 {
			s.Day = time.UnixMilli(p.Opened.At)
		}
	case p.Opened != nil, p.Spoilt != nil:
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
