package work

import (
	"mvuke/model"
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
				p.Good++
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
