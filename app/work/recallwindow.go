package work

import (
	"errors"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Which loads a recall is about.

// lastGood is the cycle of the last valid negative test that lies provably before the cycles of a growth; zero: there is none. before, where it is an entry, leaves out what was
// thought of after it.
func (d *Desk) lastGood(pot model.ID, grew []model.ID, before entry.Verified) (good model.ID, err error) {
	tests, err := d.SporeTests(1000)
	if err != nil {
		return good, err
	}
	earlier, err := d.provablyBefore(grew)
	if err != nil {
		return good, err
	}
	for _, t := range tests { // newest first
		if t.Placed.Pot == pot && t.Said == model.SporeNegative && earlier[t.Placed.Cycle] && (before.IsZero() || entry.Less(t.PlacedBy, before) < 0) {
			return t.Placed.Cycle, nil
		}
	}
	return good, nil
}

// notBefore are the loads of a pot that were not provably begun before a cycle, nor are that cycle, oldest first. Of the zero cycle: all.
func (d *Desk) notBefore(pot, good model.ID) (out []model.ID, err error) {
	ids, err := d.Store.CyclesOf(pot, mostLookedBack)
	if err != nil {
		return nil, d.unread(err)
	}
	before, err := d.provablyBefore([]model.ID{good})
	if err != nil {
		return nil, err
	}
	for _, id := range slices.Backward(ids) {
		if id != good && !before[id] {
			out = append(out, id)
		}
	}
	return out, nil
}

// upTo are a cycle and those provably before it; none of the zero cycle.
func (d *Desk) upTo(good model.ID) (map[model.ID]bool, error) {
	before, err := d.provablyBefore([]model.ID{good})
	if err == nil && !good.IsZero() {
		before[good] = true
	}
	return before, err
}

// mostLookedBack bounds the cycles of one pot that are gone through: sixty years of them.
const mostLookedBack = 30_000

// mostNamed bounds the loads that one entry names; a wide recall finds the others by itself.
const mostNamed = 2000

// window are the loads of a recall now: those that were named, and of a wide one all that were not provably before what it leans on, also those that were told of since.
func (d *Desk) window(words []model.Recall, named []model.ID) (out []model.ID, err error) {
	add := func(ids ...model.ID) {
		for _, id := range ids {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	for _, w := range words {
		if !w.Wide {
			continue
		}
		ids, err := d.notBefore(w.Pot, w.After)
		if err != nil {
			return nil, err
		}
		add(ids...)
	}
	add(named...)
	return out, nil
}

// loadsOf reads cycles; one that is not here is left out, and said so by count.
func (d *Desk) loadsOf(ids []model.ID) (out []recalled, absent int, err error) {
	for _, id := range ids {
		c, err := d.Cycle(id)
		if isRefusal(err, "no-such-cycle") {
			absent++
			continue
		}
		if err != nil {
			return nil, 0, errors.Join(err)
		}
		out = append(out, recalled{id, c})
	}
	return out, absent, nil
}
