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

	lookedBack bool // it comes of looking back
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
	drafts, err := d.recallDrafts(id, f, nil)
	if err != nil {
		return id, err
	}
	_, err = d.sign(drafts...)
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
	drafts, err := d.recallDrafts(id, RecallForm{Why: r.Why, Cause: r.Cause, Loads: r.named, Pot: r.Pot, Wide: true, Drill: r.Drill, Reason: reason}, &r)
	if err != nil {
		return err
	}
	_, err = d.sign(drafts...)
	return err
}

// recallDrafts are the entries that open a recall, or widen one that is there: one, and more where it names more loads than one has room for.
func (d *Desk) recallDrafts(id model.ID, f RecallForm, there *Recall) (out []entry.Draft, err error) {
	w := model.Recall{Why: f.Why, Pot: f.Pot, Wide: f.Wide, Cause: f.Cause, Drill: f.Drill, LookedBack: f.lookedBack, Reason: strings.TrimSpace(f.Reason), At: d.Clock.Now().Wall.UnixMilli()}
	loads, absent, err := d.loadsOf(f.Loads)
	if err != nil {
		return nil, err
	}
	if len(loads)+len(absent) == 0 && !f.Wide {
		return nil, refuse("recall-loads")
	}
	for _, l := range loads {
		if w.Pot.IsZero() {
			w.Pot = l.Begun.Sterilizer
		}
	}
	if f.Wide {
		good, err := d.lastGood(w.Pot, f.Loads, entry.Verified{})
		if err != nil {
			return nil, err
		}
		w.After = good.Placed.Cycle
		if w.Knew, _, err = d.knownOf(Pot{ID: w.Pot}); err != nil {
			return nil, err
		}
		if w.Spare, err = d.spareOf(w, f.Loads); err != nil {
			return nil, err
		}
	}
	x := entry.Draft{Kind: model.KindRecall, Targets: []model.Ref{recallRef(id)}}
	if there != nil {
		w.Number, x.Replaces = there.Number, there.words
	} else if w.Number, err = d.nextRecall(); err != nil {
		return nil, err
	}
	ids, _, err := d.window([]model.Recall{w}, f.Loads, there.wordsFor)
	if err != nil {
		return nil, err
	}
	x.Payload = w
	if w.Wide { // what is told of later finds it by its pot
		x.Targets = append(x.Targets, model.Ref{Noun: model.NounSterilizer, ID: w.Pot})
	}
	w.Wide, w.Knew, w.Spare = false, nil, nil // of the others
	for some := range slices.Chunk(ids, mostNamed) {
		for _, c := range some {
			x.Targets = append(x.Targets, model.Ref{Noun: model.NounCycle, ID: c})
		}
		out = append(out, x)
		x = entry.Draft{Kind: model.KindRecall, Targets: []model.Ref{recallRef(id)}, Payload: w}
	}
	if len(out) == 0 {
		out = append(out, x)
	}
	return out, nil
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
	if len(packs) == 0 || slices.ContainsFunc(packs, func(p model.ID) bool { // of a use that is still to come nobody can be told
		q := r.Square(p)
		return q == nil || (what == model.SoughtClinician && q.At != AtUsed)
	}) {
		return refuse("recall-packs")
	}
	own, err := d.SiteID()
	if err != nil {
		return err
	}
	office, err := d.Office()
	if err != nil {
		return err
	}
	views, err := d.packs(packs)
	if err != nil {
		return err
	}
	for _, p := range views {
		if x := (toldBy{site: own, office: office}); what != model.SoughtLost && !x.answersFor(p) {
			return refuse("recall-elsewhere", p.Label)
		}
	}
	var drafts []entry.Draft
	for some := range slices.Chunk(packs, mostAnswered) {
		told := model.RecallTold{What: what, Packs: some, Note: note, At: d.Clock.Now().Wall.UnixMilli()}
		if what == model.SoughtClinician {
			for _, p := range some {
				told.Uses = append(told.Uses, r.Square(p).uses...)
			}
		}
		drafts = append(drafts, entry.Draft{Kind: model.KindRecallTold, Targets: []model.Ref{recallRef(id)}, Payload: told})
	}
	_, err = d.sign(drafts...)
	return err
}

// mostAnswered bounds the packs that one entry answers for: an entry has 64 kB. Of more, there are more entries.
const mostAnswered = 500

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
	reason = strings.TrimSpace(reason)
	left := 0
	for _, q := range r.squares() {
		if !q.Found {
			left++
		}
	}
	if reason == "" && (left > 0 || r.Absent > 0 || r.Untold > 0) {
		return refuse("recall-left", short(float64(left)), short(float64(r.Untold)))
	}
	_, err = d.sign(recallEnds(r, reason, d.Clock.Now().Wall.UnixMilli())...)
	return err
}

// recallEnds are the entries that end a recall: together they name every pack and every load that it is about.
func recallEnds(r Recall, reason string, at int64) (out []entry.Draft) {
	squares := r.squares()
	for first := 0; first == 0 || first < max(len(squares), len(r.absent)); first += mostAnswered {
		e := model.RecallClosed{Reason: reason, At: at, Absent: r.absent[min(first, len(r.absent)):min(first+mostAnswered, len(r.absent))]}
		for _, q := range squares[min(first, len(squares)):min(first+mostAnswered, len(squares))] {
			e.Packs = append(e.Packs, q.Pack)
			if !q.Found {
				e.Left = append(e.Left, q.Pack)
			}
			if q.Owed {
				e.Untold, e.Uses = append(e.Untold, q.Pack), append(e.Uses, q.untold...)
			}
		}
		for _, l := range r.Loads { // what stops the loads of these packs, as far as it is known now
			if slices.ContainsFunc(l.Squares, func(q Square) bool { return slices.Contains(e.Packs, q.Pack) }) {
				for _, id := range l.held {
					e.Knew = append(e.Knew, id[:])
				}
			}
		}
		out = append(out, entry.Draft{Kind: model.KindRecallEnd, Targets: []model.Ref{recallRef(r.ID)}, Payload: e})
	}
	return out
}

// recalled is a load of a recall.
type recalled struct {
	ID model.ID
	register.Cycle
}
