package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Which recalls there are, and whose.

// Recalls lists those of our site, or at the office of all, the newest first; open ones before those that are closed.
func (d *Desk) Recalls() ([]Recall, error) { return d.recalls(func(recallHead) bool { return true }) }

// RecallsAt are the recalls that were opened at a site, or whose loads were run there.
func (d *Desk) RecallsAt(site model.ID) ([]Recall, error) {
	return d.recalls(func(h recallHead) bool { return h.About(site) })
}

// RecallIDs are those of Recalls, unread: what nobody ended first, or is known to be open all the same.
func (d *Desk) RecallIDs() (out []model.ID, err error) {
	heads, err := d.recallHeads()
	for _, over := range []bool{false, true} {
		for _, h := range heads {
			if d.over(h) == over {
				out = append(out, h.ID)
			}
		}
	}
	return out, err
}

func (d *Desk) recalls(wanted func(recallHead) bool) (out []Recall, err error) {
	heads, err := d.recallHeads()
	if err != nil {
		return nil, err
	}
	for _, h := range heads {
		if !wanted(h) {
			continue
		}
		r, err := d.Recall(h.ID)
		if err != nil {
			return nil, err
		}
		out = append(out, r)
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

// recallHead is a recall by its own words alone: its loads and packs are not read.
type recallHead struct {
	Recall
	ended bool // somebody who may ended it; whether that still holds, its packs say
}

// recallHeads are those of our site, or at the office of all, the newest first. They are read once until anything is told.
func (d *Desk) recallHeads() ([]recallHead, error) {
	if err := d.standingNow(); err != nil {
		return nil, err
	}
	if d.standing.heads == nil {
		heads, err := d.readRecallHeads()
		if err != nil {
			return nil, err
		}
		d.standing.heads = append([]recallHead{}, heads...)
	}
	return d.standing.heads, nil
}

func (d *Desk) readRecallHeads() (out []recallHead, err error) {
	office, err := d.Office()
	if err != nil {
		return nil, err
	}
	own, err := d.SiteID()
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.ByKind(model.KindRecall)
	if err != nil {
		return nil, d.unread(err)
	}
	wait, err := d.Store.Waiting() // one that came before what it follows on stops its loads too
	if err != nil {
		return nil, d.unread(err)
	}
	vs = append(vs, slices.DeleteFunc(wait, func(v entry.Verified) bool { return v.Body().Kind != model.KindRecall })...)
	seen := map[model.ID]bool{}
	for _, v := range slices.Backward(vs) {
		for _, ref := range v.Body().Refs() {
			if ref.Noun != model.NounRecall || seen[ref.ID] {
				continue
			}
			seen[ref.ID] = true
			h, ok, err := d.recallHead(ref.ID)
			if err != nil {
				return nil, err
			}
			if !ok {
				continue // claimed by a device that is not known here
			}
			if office || h.About(own) {
				out = append(out, h)
			}
		}
	}
	return out, nil
}

func (d *Desk) recallHead(id model.ID) (h recallHead, ok bool, err error) {
	st, err := d.noun(recallRef(id))
	if err != nil {
		return h, false, err
	}
	r, _ := d.recallWords(id, st)
	if len(r.said) == 0 {
		return h, false, nil
	}
	h = recallHead{r, len(r.ends) > 0}
	return h, true, d.recallSites(&h.Recall, st)
}

// recallSites says whose a recall is.
func (d *Desk) recallSites(r *Recall, st register.State) (err error) {
	if err := d.read(func(src register.Source) { r.Site, _ = register.House(src, st.Ref) }); err != nil {
		return err
	}
	var pot model.ID
	if r.Wide { // what is told of later may be of another clinic, where the pot went
		pot = r.Pot
	}
	if r.Sites, err = d.Store.SitesOf(pot, r.named...); err != nil {
		return d.unread(err)
	}
	return nil
}
