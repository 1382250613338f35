package work

import (
	"slices"
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
	if ids, err = d.withRejected(ids); err != nil {
		return err
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
			if p.Made != nil && !p.Over() && (p.State.Is(ShelfRejected) || p.Ended()) { // a device that was taken out may say that it is torn
				left++
			}
		}
		if left > 0 {
			add(Stop, "unwrap", "cycle", id, strconv.FormatInt(c.Begun.Number, 10), strconv.Itoa(left))
		}
	}
	return nil
}

// mostRejected bounds the loads that ended badly which are looked through beside the latest.
const mostRejected = 500

// withRejected adds the loads of our site that were rejected, however long ago: their packs are gone, or lie there with turned tape, until somebody answers for them.
func (d *Desk) withRejected(ids []model.ID) ([]model.ID, error) {
	own, _, err := d.house()
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.LatestOf(model.KindReject, mostRejected, own...)
	if err != nil {
		return nil, d.unread(err)
	}
	for _, v := range vs {
		for _, id := range cyclesOf(v) {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	return ids, nil
}

// todayShelf counts the packs here whose last day is over, and those that only their pot stops: no line of a load or of a recall speaks of them, and they look like the others on the shelf.
func (d *Desk) todayShelf(add func(Urgency, string, string, model.ID, ...string)) error {
	ps, err := d.OnShelf(shelfLately)
	if err != nil {
		return err
	}
	expired, held := 0, 0
	for _, p := range ps {
		switch {
		case p.Out() || p.Elsewhere() || p.Where() == model.MoveAside:
		case p.State == ShelfExpired:
			expired++
		case p.State == ShelfHeld && p.HasCycle && len(p.Cycle.Released) > 0 && !p.Cycle.State.Stopped():
			held++
		}
	}
	if held > 0 {
		add(Stop, "held-shelf", "packs", model.ID{}, strconv.Itoa(held))
	}
	if expired > 0 {
		add(Soon, "expired", "packs", model.ID{}, strconv.Itoa(expired))
	}
	return nil
}
