package work

import (
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/register"
)

// Proven is how many good cycles with a witness from inside a pack a pot has shown here, of those that it needs before its first
// release.
type Proven struct{ Good, Need int64 }

// Done says that the pot is commissioned.
func (p Proven) Done() bool { return p.Good >= p.Need }

// Proven counts the cycles, the oldest first, until there are enough: run to the end, shown by their readings, the strip or thermometer
// inside a pack reached. It does not matter whether they were empty or loaded.
func (d *Desk) Proven(pot model.ID) (p Proven, err error) {
	rules, err := d.Rules()
	if err != nil {
		return p, err
	}
	if p.Need = rules.Value(model.PolicyCommission); !rules.On(model.PolicyCommission) {
		p.Need = 0
	}
	if p.Done() {
		return p, nil
	}
	const page = 50
	for from := int64(0); ; from += page {
		ids, err := d.Store.FirstCyclesOf(pot, from, page)
		if err != nil {
			return p, d.unread(err)
		}
		for _, id := range ids {
			whole, err := d.wholeCycle(id)
			if err != nil {
				return p, err
			}
			if !whole {
				continue
			}
			c, err := d.Cycle(id)
			if err != nil {
				return p, err
			}
			clean := len(c.State.Holds) == 0 && len(c.Rejected) == 0 && c.Begun.TestPack && c.Begun.Item == model.Wrapped // whatever was cleared since
			if clean && c.Witness != nil && c.Witness.Reached && !c.Begun.Practice {
				stands, err := d.stillStands(c)
				if err != nil {
					return p, err
				}
				if stands {
					p.Good++
				}
			}
			if p.Done() {
				return p, nil
			}
		}
		if len(ids) < page {
			return p, nil
		}
	}
}

// stillStands says whether the readings of a cycle show it by what was found of its gauge since too. One with packs is held by that; an empty one nothing holds.
func (d *Desk) stillStands(c register.Cycle) (bool, error) {
	var found []assess.Found
	if err := d.read(func(src register.Source) { found = foundSince(src, c) }); err != nil {
		return false, err
	}
	for _, f := range found {
		if judged(assess.LookBack(d.input(c), f)).Verdict != model.Shown {
			return false, nil
		}
	}
	return true, nil
}
