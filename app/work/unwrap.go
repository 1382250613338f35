package work

import (
	"strconv"

	"mvuke/model"
)

// unwrapLately is how many of the latest loads are looked through for packs that are to be unwrapped.
const unwrapLately = 200

// todayUnwrap names the loads with packs that ended there and still lie wrapped: their tape has turned, and somebody may take them for
// sterile. One line a load, until each is marked as unwrapped.
func (d *Desk) todayUnwrap(add func(Urgency, string, string, model.ID, ...string)) error {
	ids, err := d.LatestCycles(unwrapLately)
	if err != nil {
		return d.unread(err)
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return err
		}
		whole := len(c.Rejected) > 0 || c.Aborted()
		if !c.Settled() {
			continue
		}
		var packs []model.ID
		for _, p := range c.Begun.Packs {
			if whole || c.BadPacks[p.ID] {
				packs = append(packs, p.ID)
			}
		}
		views, err := d.packs(packs)
		if err != nil {
			return err
		}
		left := 0
		for _, p := range views {
			if p.State.Is(ShelfRejected) && p.Made != nil {
				left++
			}
		}
		if left > 0 {
			add(Stop, "unwrap", "cycle", id, strconv.FormatInt(c.Begun.Number, 10), strconv.Itoa(left))
		}
	}
	return nil
}

// todayExpired counts the packs here whose last day is over: they look like the others on the shelf.
func (d *Desk) todayExpired(add func(Urgency, string, string, model.ID, ...string)) error {
	ps, err := d.OnShelf(shelfLately)
	if err != nil {
		return err
	}
	n := 0
	for _, p := range ps {
		if p.State == ShelfExpired && !p.Out() && !p.Elsewhere() {
			n++
		}
	}
	if n > 0 {
		add(Soon, "expired", "packs", model.ID{}, strconv.Itoa(n))
	}
	return nil
}
