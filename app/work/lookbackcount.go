package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/register"
)

// Counting the loads that a comparison puts in doubt, before anybody answers for it.

// doubtedBy counts the loads of a pot that a comparison would put in doubt.
func (d *Desk) doubtedBy(pot Pot, c model.Compared) (n int, err error) {
	if err := d.inPast(pot, &c); err != nil {
		return 0, err
	}
	return d.fallUnder(pot, c)
}

// fallUnder counts the loads of a pot whose plan allowed for less than a comparison says, but for those before its window.
func (d *Desk) fallUnder(pot Pot, c model.Compared) (n int, err error) {
	return d.countLoads(pot, func(src register.Source, x register.Cycle) bool { return byOne(src, x, c) })
}

// fallBetween counts the loads of a pot that some comparisons put in doubt with one window each, and did not with another.
func (d *Desk) fallBetween(pot Pot, before, after []model.Compared) (n int, err error) {
	return d.countLoads(pot, func(src register.Source, x register.Cycle) bool {
		by := func(c model.Compared) bool { return byOne(src, x, c) }
		return slices.ContainsFunc(after, by) && !slices.ContainsFunc(before, by)
	})
}

// byOne says whether one comparison puts a load in doubt, lit without knowing of it.
func byOne(src register.Source, x register.Cycle, c model.Compared) bool {
	return c.WorstPa > register.Counted(x.Begun.Plan)+register.DustPa && !register.Covers(src, c.Since, x.Entry)
}

// countLoads counts the loads of a pot and its gauge of which something holds.
func (d *Desk) countLoads(pot Pot, yes func(register.Source, register.Cycle) bool) (n int, err error) {
	ids, err := d.Store.CyclesOf(pot.ID, mostLookedBack)
	if err != nil {
		return 0, d.unread(err)
	}
	for _, id := range ids {
		x, err := d.Cycle(id)
		if err != nil {
			return 0, err
		}
		if len(x.Begun.Packs) == 0 || x.Aborted() || len(x.Rejected) > 0 {
			continue
		}
		err = d.read(func(src register.Source) {
			if slices.Contains(register.GaugesOf(src, x), pot.Looks.Gauge) && yes(src, x) {
				n++
			}
		})
		if err != nil {
			return 0, err
		}
	}
	return n, nil
}
