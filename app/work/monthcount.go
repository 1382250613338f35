package work

import (
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Counting what a month holds.

func (d *Desk) fill(f *Figures, m Month, recalls []Recall) error {
	ids, undated, err := d.cyclesIn(f.Site, m)
	if err != nil {
		return err
	}
	for _, c := range ids {
		if err := d.count(f, c); err != nil {
			return err
		}
	}
	f.Undated = undated
	own, err := d.streamsOf(f.Site)
	if err != nil {
		return err
	}
	in := func(k model.Kind, do func(entry.Verified)) error { return d.toldIn(k, own, m, do) }
	out := map[string]bool{}
	for _, err := range []error{
		in(model.KindStockOut, func(v entry.Verified) { out[dayOf(v)] = true }),
		in(model.KindIncident, func(v entry.Verified) {
			var x model.Incident
			if v.Body().Decode(&x) != nil || x.Code != model.UnsterileUse {
				f.Incidents++
			}
		}),
		in(model.KindPackOpened, func(entry.Verified) { f.Opened++ }),
		in(model.KindClockSet, func(entry.Verified) { f.ClockSet++ }),
		d.sporesIn(f, own, m),
	} {
		if err != nil {
			return err
		}
	}
	f.StockOutDays = len(out)
	if f.Stocks, err = d.stocksBy(own, m.To); err != nil {
		return err
	}
	if _, _, f.InDoubt, err = d.Store.LoadsAt(f.Site); err != nil {
		return d.unread(err)
	}
	for _, r := range recalls {
		over := r.At.Add(r.Took)
		if r.About(f.Site) && r.At.Before(m.To) && (!r.Closed || !over.Before(m.To)) {
			f.RecallsOpen++
		}
		if r.About(f.Site) && r.Closed && !r.At.IsZero() && !over.Before(m.From) && over.Before(m.To) {
			f.RecallsEnded, f.RecallDays = f.RecallsEnded+1, f.RecallDays+r.Took.Hours()/24
		}
	}
	return nil
}

// stocksBy is 1 where a clinic told anything of its stock before a moment: whoever never counts is short of nothing by the register, and nobody knows.
func (d *Desk) stocksBy(own []entry.Stream, end time.Time) (n int, err error) {
	for _, k := range []model.Kind{model.KindStock, model.KindStockOut} {
		if n > 0 || len(own) == 0 {
			break
		}
		if _, err := d.Store.LatestWhile(k, func(v entry.Verified) bool {
			if v.Body().Wall < end.UnixMilli() {
				n = 1
			}
			return n == 0
		}, own...); err != nil {
			return 0, d.unread(err)
		}
	}
	return n, nil
}

// monthRecalls are the recalls that months count, but for drills: as far as is asked when they began and ended.
func (d *Desk) monthRecalls(wanted func(recallHead) bool) (out []Recall, err error) {
	heads, err := d.recallHeads()
	if err != nil {
		return nil, err
	}
	for _, h := range heads {
		if h.Drill || !wanted(h) {
			continue
		}
		r := h.Recall
		if h.ended {
			var end recallEnd
			end, err = d.endOf(h)
			r.Closed, r.At, r.Took = end.closed, end.at, end.took
		} else {
			r, err = d.Recall(h.ID)
		}
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}

func dayOf(v entry.Verified) string {
	return time.UnixMilli(v.Body().Wall).UTC().Format(time.DateOnly)
}

// cyclesIn are the cycles of a site that were begun in a month, by their corrected days; undated are those with packs of which nobody knows the day, in whatever month they belong.
func (d *Desk) cyclesIn(site model.ID, m Month) (out []register.Cycle, undated int, err error) {
	ids, err := d.Store.CyclesBegun(site, m.From.UnixMilli(), m.To.UnixMilli())
	if err != nil {
		return nil, 0, d.unread(err)
	}
	cs, err := d.cycles(ids)
	if err != nil {
		return nil, 0, err
	}
	for _, c := range cs {
		at, known, err := d.Began(c)
		if err != nil {
			return nil, 0, err
		}
		if !known && len(c.Begun.Packs) > 0 && !c.Begun.Practice {
			undated++
		}
		if at = at.UTC(); known && !at.Before(m.From) && at.Before(m.To) {
			out = append(out, c)
		}
	}
	return out, undated, nil
}

// toldIn goes through what streams told of a kind in a month, by the clock of the device, or what a person said of it.
func (d *Desk) toldIn(k model.Kind, by []entry.Stream, m Month, do func(entry.Verified)) error {
	if len(by) == 0 {
		return nil
	}
	for _, stream := range by { // one by one: what came late by another's stick is not in the way
		vs, err := d.backTo(m, k, stream)
		if err != nil {
			return err
		}
		for _, v := range vs {
			at, _, err := d.Corrected(v)
			if err != nil {
				return err
			}
			if !at.Before(m.From) && at.Before(m.To) {
				do(v)
			}
		}
	}
	return nil
}

// backTo is what a stream told of a kind from today back over the beginning of a month, the newest first.
func (d *Desk) backTo(m Month, k model.Kind, stream entry.Stream) ([]entry.Verified, error) {
	old := 0
	vs, err := d.Store.LatestWhile(k, func(v entry.Verified) bool {
		if v.Body().Wall < m.From.UnixMilli() {
			old++
		}
		return old < 50 // a clock that stood back for a while hides nothing of what came before
	}, stream)
	if err != nil {
		return nil, d.unread(err)
	}
	return vs, nil
}

// sporesIn counts the spore tests that were read in a month. One that grew on a day that nobody knows counts in each month that it may have been, by what its device told before and after it.
func (d *Desk) sporesIn(f *Figures, by []entry.Stream, m Month) error {
	seen := map[model.ID]bool{}
	var ids []model.ID
	add := func(v entry.Verified) {
		for _, r := range v.Body().Refs() {
			if r.Noun == model.NounTest && !seen[r.ID] {
				seen[r.ID] = true
				ids = append(ids, r.ID)
			}
		}
	}
	for _, stream := range by {
		vs, err := d.backTo(m, model.KindSporeRead, stream)
		if err != nil {
			return err
		}
		var between []entry.Verified // undated growths, told before something that is dated in the month or later
		late := true
		for _, v := range vs {
			var r model.SporeRead
			at, known, err := d.Corrected(v)
			switch {
			case err != nil:
				return err
			case !known && late && (v.Body().Decode(&r) != nil || r.Grew):
				between = append(between, v)
				continue
			case !known:
			case at.Before(m.To):
				for _, x := range between {
					add(x)
				}
				between, late = nil, !at.Before(m.From)
			default:
				between, late = nil, true
			}
			if !at.Before(m.From) && at.Before(m.To) {
				add(v)
			}
		}
		for _, x := range between {
			add(x)
		}
	}
	for _, id := range ids {
		t, e := d.SporeTest(id)
		if isRefusal(e, "no-such-test") {
			continue
		}
		if e != nil {
			return e
		}
		switch t.Said {
		case model.SporePositive:
			f.Grew++
		case model.SporeNegative:
			f.Negatives++
		case model.SporeVoid:
			f.Voids++
		}
	}
	return nil
}
