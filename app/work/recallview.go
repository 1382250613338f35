package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
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
	Noted bool     // it has one, here or where it was used
	Found bool     // nobody can use it unawares: used, ended, set aside, or seen
	Told  bool     // of every use of it somebody was told

	Owed bool      // it was opened on somebody, nobody was told, and somebody is to be
	Day  time.Time // on which it was opened on somebody; zero: it was not, or nobody knows

	uses, untold [][]byte // of these, those that nobody was told of
}

// RecallLoad is one load of a recall with its packs. A pack that was in several stands with the last.
type RecallLoad struct {
	Cycle    model.ID
	Number   int64
	Test     bool // the recall comes from this one
	InPot    bool // nobody has told that it was taken out
	Squares  []Square
	Now      *assess.Result // what the readings show by what was found out since; nil: it is not for that
	Freed    bool           // it was freed from this recall by name
	held     []entry.ID     // open holds on it
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
	Reason string         // why it was opened
	Ended  string         // why it was closed, where packs were left
	EndBy  entry.Verified // by whom, and when
	Short  int            // packs that were not accounted for when it was closed
	Site   model.ID       // that opened it
	Sites  []model.ID     // where its loads were run
	At     time.Time      // opened; zero where the date is in doubt
	Took   time.Duration

	Answered bool // somebody has looked for its packs since
	Loads    []RecallLoad
	Absent   int // loads that were named and are not here
	Found    int // packs
	Untold   int // packs used on somebody, of whom nobody was told
	Sum      map[Whereabouts]int
	Total    int

	named  []model.ID
	absent []model.ID // of these, those that are not here
	after  model.ID
	words  []entry.ID           // by which it was opened and widened
	said   []model.Recall       // by them, in their order
	ends   []model.RecallClosed // that ended it
}

func (r Recall) squares() (out []Square) {
	for _, l := range r.Loads {
		out = append(out, l.Squares...)
	}
	return out
}

// About says whether a recall is a site's: it was opened there, or its loads were run there.
func (r Recall) About(site model.ID) bool { return r.Site == site || slices.Contains(r.Sites, site) }

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
	r, told := d.recallWords(id, st)
	if len(r.said) == 0 {
		return r, refuse("no-such-recall")
	}
	if err := d.recallSites(&r, st); err != nil {
		return r, err
	}
	var ids []model.ID
	if ids, r.after, err = d.window(r.said, r.named, r.wordsFor); err != nil {
		return r, err
	}
	if c, err := d.Cycle(r.after); err == nil && !r.after.IsZero() {
		r.After = c.Begun.Number
	}
	loads, absent, err := d.loadsOf(ids)
	if err != nil {
		return r, err
	}
	r.absent, r.Absent = absent, len(absent)
	if err := d.fillRecall(&r, loads, told); err != nil {
		return r, err
	}
	r.close()
	return r, d.recallTimes(&r, st)
}

// Listed says that the clinician's list names somebody: a pack was opened on a person of whom somebody is to be told, or was.
func (r Recall) Listed() bool {
	return !r.Drill && slices.ContainsFunc(r.Loads, func(l RecallLoad) bool {
		return slices.ContainsFunc(l.Squares, func(q Square) bool { return q.At == AtUsed && (l.Patients || q.Told) })
	})
}

// Left is how many packs of it lie on a shelf or in the wards, and nobody set them aside nor said that they are not to be found.
func (r Recall) Left() (n int) {
	for _, q := range r.squares() {
		if (q.At == AtShelf || q.At == AtIssued) && !q.Found {
			n++
		}
	}
	return n
}
