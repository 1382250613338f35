package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/store"
)

// What was worked out of all clinics is kept until anything is told.

// stoodAt is what was worked out last, and of what: of many clinics it takes seconds, and holds until anything is told or the hour is over.
type stoodAt struct {
	of      *store.Store
	changes int64
	hour    string
	list    []Standing
	heads   []recallHead
	months  map[model.ID]MonthRate
	ends    map[model.ID]recallEnd // recalls that were ended, and are read since
	open    map[model.ID]Recall    // recalls that are open, as far as they were read
}

// recallEnd is what was read of a recall that was ended: it may be open all the same, by what was told later.
type recallEnd struct {
	closed bool
	at     time.Time
	took   time.Duration
	left   int // of one that is over: packs that nobody set aside
}

// counts says that its clinic's row is otherwise by it.
func (e recallEnd) counts() bool { return !e.closed || e.left > 0 }

// standingNow lets go of what was worked out of another register, or in another hour.
func (d *Desk) standingNow() error {
	now, err := d.Date()
	if err != nil {
		return err
	}
	at := stoodAt{of: d.Store, changes: d.Store.Changes(), hour: now.Format(time.DateOnly + " 15"), months: map[model.ID]MonthRate{}, ends: map[model.ID]recallEnd{}, open: map[model.ID]Recall{}}
	if s := d.standing; s.of != at.of || s.changes != at.changes || s.hour != at.hour {
		d.standing = at
	}
	return nil
}

// recallNow is Recall, read once until anything is told.
func (d *Desk) recallNow(id model.ID) (r Recall, err error) {
	if err := d.standingNow(); err != nil {
		return r, err
	}
	if r, read := d.standing.open[id]; read {
		return r, nil
	}
	if r, err = d.Recall(id); err == nil {
		d.standing.open[id] = r
	}
	return r, err
}

// Standings lists the clinics: what harms first, then those that were silent longest. What their last month was is asked of each (LastMonth): it takes longer than all the rest.
func (d *Desk) Standings() ([]Standing, error) {
	for left := 1; left > 0; {
		var err error
		if left, _, err = d.EndedRecall(); err != nil {
			return nil, err
		}
	}
	return d.StandingsSoon()
}

// StandingsSoon is Standings before the recalls that were ended are read again (EndedRecall): what was told since may have opened one.
func (d *Desk) StandingsSoon() ([]Standing, error) {
	err := d.standingNow()
	if err == nil && d.standing.list == nil {
		d.standing.list, err = d.standings()
	}
	return slices.Clone(d.standing.list), err
}

// StandingAt is Standings of one clinic, of which only its own ended recalls are read; its zero value: it is not known.
func (d *Desk) StandingAt(site model.ID) (s Standing, err error) {
	heads, err := d.recallHeads()
	if err != nil {
		return s, err
	}
	for _, h := range heads {
		if h.About(site) && d.unreadEnd(h) {
			if _, err := d.endOf(h); err != nil {
				return s, err
			}
		}
	}
	all, err := d.StandingsSoon()
	if i := slices.IndexFunc(all, func(x Standing) bool { return x.ID == site }); i >= 0 {
		s = all[i]
	}
	return s, err
}

// unreadEnd says that a recall was ended, and was not read again since anything was told.
func (d *Desk) unreadEnd(h recallHead) bool {
	_, known := d.standing.ends[h.ID]
	return !known && h.ended && !h.Drill
}

// over says that a recall is over as far as is known: it was ended, and was not found open all the same.
func (d *Desk) over(h recallHead) bool {
	end, known := d.standing.ends[h.ID]
	return h.ended && (!known || end.closed)
}

// endOf reads one, once until anything is told.
func (d *Desk) endOf(h recallHead) (recallEnd, error) {
	if end, known := d.standing.ends[h.ID]; known {
		return end, nil
	}
	r, err := d.Recall(h.ID)
	if err != nil {
		return recallEnd{}, err
	}
	end := recallEnd{r.Closed, r.At, r.Took, r.Left()}
	if end.counts() {
		d.standing.list = nil
	}
	d.standing.ends[h.ID] = end
	return end, nil
}

// EndedRecall reads the next recall that was ended, and says how many are left to be read, and whether this one is open all the same: from then on it counts.
func (d *Desk) EndedRecall() (left int, again bool, err error) {
	heads, err := d.recallHeads()
	if err != nil {
		return 0, false, err
	}
	read := false
	for _, h := range heads {
		switch {
		case !d.unreadEnd(h):
		case read:
			left++
		default:
			end, err := d.endOf(h)
			if err != nil {
				return 0, false, err
			}
			read, again = true, end.counts()
		}
	}
	return left, again, nil
}
