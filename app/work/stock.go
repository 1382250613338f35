package work

import (
	"math"
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// Item is a consumable with what is left of it.
type Item struct {
	What     model.Consumable
	Known    bool      // it was counted at least once
	Counted  time.Time // last
	Left     int64     // by the count, what came in and what was used since; never below zero
	PerMonth float64   // used in the last sixty days, by the month; 0: not known
	Days     int64     // that it lasts; -1: not known
	OutDays  int       // days of the last thirty on which it was missing
}

// stockLately is how many counts and deliveries are looked through.
const stockLately = 1200

// rateDays are the days from which the rate of use is taken.
const rateDays = 60

// TellStock records a count or a delivery.
func (d *Desk) TellStock(what model.Consumable, amount int64, counted bool) error {
	if !slices.Contains(model.Consumables, what) || amount < 0 || amount > 1_000_000 {
		return refuse("number")
	}
	p, err := d.Place()
	if err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindStock, Targets: []model.Ref{{Noun: model.NounSite, ID: p.ID}},
		Payload: model.StockTold{What: what, Amount: amount, Counted: counted, At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// StockOutToday records that something was missing today.
func (d *Desk) StockOutToday(what model.Consumable) error {
	_, err := d.sign(entry.Draft{Kind: model.KindStockOut, Payload: model.StockOut{What: string(what)}})
	return err
}

// use is one thing used up.
type use struct {
	what model.Consumable
	n    int64
	v    entry.Verified
}

// uses are what acts have used up since the oldest count that still counts, and in the days of the rate: each pack its tape, strip, wrap
// and label, each cycle its fuel and water, each test itself.
func (d *Desk) uses(own []entry.Stream, since entry.Verified, now time.Time) (out []use, err error) {
	more := func(v entry.Verified) bool {
		age := now.Sub(time.UnixMilli(v.Body().Wall))
		return entry.Less(since, v) < 0 || (age >= 0 && age < rateDays*24*time.Hour)
	}
	for _, kind := range []model.Kind{model.KindPackMade, model.KindCycleBegun, model.KindSporePlaced, model.KindLabel, model.KindSetCounted, model.KindCareDone} {
		vs, err := d.Store.LatestWhile(kind, more, own...)
		if err != nil {
			return nil, d.unread(err)
		}
		for _, v := range vs {
			add := func(what model.Consumable, n int64, yes bool) {
				if yes {
					out = append(out, use{what, n, v})
				}
			}
			switch kind {
			case model.KindPackMade:
				var m model.PackMade
				if v.Body().Decode(&m) == nil {
					add(model.StockTape, 1, m.Tape)
					add(model.StockStrips, 1, m.Strip)
					add(model.StockWrap, 1, m.Wrap != model.WrapCloth && !m.Again)
				}
			case model.KindCycleBegun:
				var c model.CycleBegun
				if v.Body().Decode(&c) == nil && !c.Practice {
					add(model.StockFuel, 1, true)
					add(model.StockWater, (c.WaterML+999)/1000, true)
					add(model.StockStrips, 1, c.TestPack)
				}
			case model.KindSporePlaced:
				var p model.SporePlaced
				if v.Body().Decode(&p) == nil {
					add(model.StockSpores, 1, true)
					add(model.StockSpores, 1, p.Control)
				}
			case model.KindLabel:
				add(model.StockLabels, 1, true)
			case model.KindCareDone:
				var c model.CareDone
				if v.Body().Decode(&c) == nil {
					add(c.Part, 1, c.Part != "")
				}
			case model.KindSetCounted:
				add(model.StockDetergent, 1, true)
			}
		}
	}
	return out, nil
}

// Stock lists every consumable with what is left of it and how long that lasts.
func (d *Desk) Stock() (out []Item, err error) {
	own, _, err := d.house()
	if err != nil {
		return nil, err
	}
	return d.stockOf(own)
}

// Orders are the consumables of each clinic of a month that reported, as they stand now.
func (d *Desk) Orders(m Month) (map[model.ID][]Item, error) {
	out := map[model.ID][]Item{}
	for _, f := range m.Sites {
		if !f.Reported {
			continue
		}
		own, err := d.streamsOf(f.Site)
		if err != nil {
			return nil, err
		}
		if len(own) == 0 {
			continue
		}
		if out[f.Site], err = d.stockOf(own); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// stockOf is the stock by what some streams told.
func (d *Desk) stockOf(own []entry.Stream) (out []Item, err error) {
	told, err := d.Store.LatestOf(model.KindStock, stockLately, own...)
	if err != nil {
		return nil, d.unread(err)
	}
	outs, err := d.Store.LatestOf(model.KindStockOut, stockLately, own...)
	if err != nil {
		return nil, d.unread(err)
	}
	now := d.Clock.Now().Wall
	var used []use
	if oldest := oldestCount(told); !oldest.IsZero() { // nothing was ever counted: there is nothing to take use off
		if used, err = d.uses(own, oldest, now); err != nil {
			return nil, err
		}
	}
	for _, what := range model.Consumables {
		it := Item{What: what, Days: -1, OutDays: outDays(outs, what, now)}
		it.count(told, used, now)
		out = append(out, it)
	}
	return out, nil
}

// leastRate is the shortest time from which a rate is taken: a first day says nothing of a month.
const leastRate = 7 * 24 * time.Hour

func perMonth(n int64, over time.Duration) float64 {
	if over < leastRate {
		return 0
	}
	return float64(n) * 30 / (over.Hours() / 24)
}

// oldestCount is the oldest of the last counts of each consumable; told is newest first.
func oldestCount(told []entry.Verified) (oldest entry.Verified) {
	seen := map[model.Consumable]bool{}
	for _, v := range told {
		var t model.StockTold
		if v.Body().Decode(&t) == nil && t.Counted && !seen[t.What] {
			seen[t.What], oldest = true, v
		}
	}
	return oldest
}

// count goes from the last count by the order of acts (no clock is needed for that), and takes the rate from sixty days.
func (it *Item) count(told []entry.Verified, used []use, now time.Time) {
	var last entry.Verified
	for _, v := range told { // newest first
		var t model.StockTold
		if v.Body().Decode(&t) != nil || t.What != it.What {
			continue
		}
		it.Left += t.Amount
		if t.Counted {
			last, it.Known, it.Counted = v, true, time.UnixMilli(t.At)
			break
		}
	}
	month, first := int64(0), now
	for _, u := range used {
		if u.what != it.What {
			continue
		}
		if it.Known && entry.Less(last, u.v) < 0 {
			it.Left -= u.n
		}
		if age := now.Sub(time.UnixMilli(u.v.Body().Wall)); age >= 0 && age < rateDays*24*time.Hour {
			month += u.n
			if at := time.UnixMilli(u.v.Body().Wall); at.Before(first) {
				first = at
			}
		}
	}
	it.Left = max(it.Left, 0)
	if it.PerMonth = perMonth(month, now.Sub(first)); it.Known && it.PerMonth > 0 {
		it.Days = int64(float64(it.Left) / it.PerMonth * 30)
	}
}

func outDays(outs []entry.Verified, what model.Consumable, now time.Time) int {
	days := map[string]bool{}
	for _, v := range outs {
		var o model.StockOut
		at := time.UnixMilli(v.Body().Wall)
		if v.Body().Decode(&o) == nil && o.What == string(what) && now.Sub(at) < 30*24*time.Hour && now.Sub(at) >= 0 {
			days[at.Format(time.DateOnly)] = true
		}
	}
	return len(days)
}

// OrderFor is for how many days an order lasts.
const OrderFor = 90

// Order is how many to order so that it lasts OrderFor days; 0: it lasts, or its use is not known and there is some.
func (it Item) Order() int64 {
	want := int64(math.Ceil(it.PerMonth * OrderFor / 30))
	switch {
	case !it.Known:
		return 0
	case it.Left == 0 && want == 0:
		return 1 // none left, and nobody knows how fast it goes: order some
	case it.Days >= OrderWithin || want <= it.Left:
		return 0
	}
	return want - it.Left
}

// OrderWithin is how many days ahead a consumable is put on the order list.
const OrderWithin = 30

// todayStock says what must be ordered.
func (d *Desk) todayStock(add func(Urgency, string, string, model.ID, ...string)) error {
	items, err := d.Stock()
	if err != nil {
		return err
	}
	for _, it := range items {
		switch {
		case it.Known && it.Left == 0:
			add(Now, "stock-out", "stock", model.ID{}, string(it.What))
		case it.Days >= 0 && it.Days < OrderWithin/2:
			add(Soon, "stock-low", "stock", model.ID{}, string(it.What), short(float64(it.Days)))
		}
	}
	return nil
}
