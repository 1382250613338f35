package work

import (
	"maps"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Which loads a recall is about.

// lastGood is the last valid negative test whose cycle lies provably before every cycle of a growth; its zero value: there is none. before, where it is an entry, leaves out what was
// thought of after it.
func (d *Desk) lastGood(pot model.ID, grew []model.ID, before entry.Verified) (good SporeTest, err error) {
	tests, err := d.testsOf(pot, 1000)
	if err != nil {
		return good, err
	}
	var earlier map[model.ID]bool
	for _, g := range grew { // before each of them: which one it was nobody knows
		b, err := d.provablyBefore([]model.ID{g})
		if err != nil {
			return good, err
		}
		if earlier == nil {
			earlier = b
			continue
		}
		maps.DeleteFunc(earlier, func(id model.ID, _ bool) bool { return !b[id] })
	}
	for _, t := range tests { // newest first
		if t.Placed.Pot == pot && t.Said == model.SporeNegative && earlier[t.Placed.Cycle] && (before.IsZero() || entry.Less(t.PlacedBy, before) < 0) {
			return t, nil
		}
	}
	return good, nil
}

// testsOf are the latest spore tests of the clinic that a pot belongs to, newest first.
func (d *Desk) testsOf(pot model.ID, limit int) ([]SporeTest, error) {
	heard, err := d.heardOf(pot)
	if err != nil {
		return nil, err
	}
	return d.sporeTests(limit, heard)
}

// heardOf are the streams that are heard on the tests of a pot: those of its clinic, or where nobody knows which that is, ours.
func (d *Desk) heardOf(pot model.ID) (heard []entry.Stream, err error) {
	var site model.ID
	housed := false
	if err := d.read(func(src register.Source) {
		site, housed = register.House(src, model.Ref{Noun: model.NounSterilizer, ID: pot})
	}); err != nil {
		return nil, err
	}
	if housed {
		_, heard, err = d.houseFor(site)
	} else {
		_, heard, err = d.house()
	}
	return heard, err
}

// testsIn are the spore tests that were laid into a cycle of a pot.
func (d *Desk) testsIn(pot, cycle model.ID) (out []SporeTest, err error) {
	heard, err := d.heardOf(pot)
	if err != nil {
		return nil, err
	}
	var placed []entry.Verified
	if err := d.read(func(src register.Source) {
		placed = register.TargetingKind(src, model.Ref{Noun: model.NounCycle, ID: cycle}, model.KindSporePlaced)
	}); err != nil {
		return nil, err
	}
	out, err = d.testsPlaced(slices.DeleteFunc(placed, func(v entry.Verified) bool {
		var p model.SporePlaced
		return v.Body().Decode(&p) != nil || p.Cycle != cycle || !slices.Contains(heard, v.Body().Stream)
	}))
	return slices.DeleteFunc(out, func(t SporeTest) bool { return t.Placed.Cycle != cycle }), err
}

// leansOn is the cycle that a recall leans on today: as it was written, while its test is still a valid negative; else the last that is, further back.
func (d *Desk) leansOn(w model.Recall, named []model.ID) (model.ID, error) {
	if w.After.IsZero() {
		return w.After, nil
	}
	tests, err := d.testsIn(w.Pot, w.After)
	if err != nil {
		return w.After, err
	}
	if slices.ContainsFunc(tests, func(t SporeTest) bool { return t.Said == model.SporeNegative }) {
		return w.After, nil
	}
	good, err := d.lastGood(w.Pot, append(slices.Clone(named), w.After), entry.Verified{})
	return good.Placed.Cycle, err
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

// spareOf are the loads that a wide recall is about too should the test that it leans on prove nothing, back to the one before it, and so on; as many as there is room for.
func (d *Desk) spareOf(w model.Recall, loads []model.ID) (out []model.SpareLoads, err error) {
	leans, room := w.After, mostSpare
	loads = slices.Clone(loads)
	for !leans.IsZero() && room > 0 && len(out) < mostLeant {
		var x model.SpareLoads
		tests, err := d.testsIn(w.Pot, leans)
		if err != nil {
			return nil, err
		}
		for _, t := range tests {
			if id := t.ReadBy.ID(); t.Said == model.SporeNegative {
				x.Reads = append(x.Reads, id[:])
			}
		}
		loads = append(loads, leans)
		good, err := d.lastGood(w.Pot, loads, entry.Verified{})
		if err != nil {
			return nil, err
		}
		further, err := d.notBefore(w.Pot, good.Placed.Cycle)
		if err != nil {
			return nil, err
		}
		safe, err := d.upTo(leans)
		if err != nil {
			return nil, err
		}
		for _, id := range further {
			if safe[id] {
				x.Loads = append(x.Loads, id[:])
			}
		}
		x.Loads = x.Loads[max(0, len(x.Loads)-room):]
		room -= len(x.Loads)
		out, leans = append(out, x), good.Placed.Cycle
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

// litKnowing says whether a load was lit in knowledge of one of some entries, by every word on its beginning.
func (d *Desk) litKnowing(id model.ID, known []entry.ID) (bool, error) {
	if len(known) == 0 {
		return false, nil
	}
	c, err := d.beginning(id)
	if isRefusal(err, "no-such-cycle") {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	return !slices.ContainsFunc(c.State.Entries, func(v entry.Verified) bool {
		return v.Body().Kind == model.KindCycleBegun && !slices.ContainsFunc(known, func(k entry.ID) bool { return slices.Contains(v.Body().Relies, k) })
	}), nil
}

// mostLookedBack bounds the cycles of one pot that are gone through: sixty years of them.
const mostLookedBack = 30_000

// mostNamed bounds the loads that one entry names, which has room for 1024 nouns: a wide recall finds the others by itself, and of others there are more entries.
const mostNamed = 1000

// window are the loads of a recall now: those that were named, and of a wide one all that were not provably before what it leans on, also those that were told of since; but none
// that was lit in knowledge of the recall for that cause. after is the cycle that the last word of a wide one leans on.
func (d *Desk) window(words []model.Recall, named []model.ID, wordsFor func(cause model.ID) []entry.ID) (out []model.ID, after model.ID, err error) {
	in := map[model.ID]bool{}
	add := func(ids ...model.ID) {
		for _, id := range ids {
			if !in[id] {
				in[id] = true
				out = append(out, id)
			}
		}
	}
	for _, w := range words {
		if !w.Wide {
			continue
		}
		if after, err = d.leansOn(w, named); err != nil {
			return nil, after, err
		}
		ids, err := d.notBefore(w.Pot, after)
		if err != nil {
			return nil, after, err
		}
		for _, id := range ids {
			knew, err := d.litKnowing(id, wordsFor(w.Cause))
			if err != nil {
				return nil, after, err
			}
			if !knew {
				add(id)
			}
		}
	}
	add(named...)
	return out, after, nil
}

// mostSpare bounds the loads that it is about should its good tests prove nothing, and mostLeant those tests: an entry has 64 kB.
const (
	mostSpare = 500
	mostLeant = 12
)

// loadsOf reads cycles; absent are those that are not here.
func (d *Desk) loadsOf(ids []model.ID) (out []recalled, absent []model.ID, err error) {
	for _, id := range ids {
		c, err := d.Cycle(id)
		if isRefusal(err, "no-such-cycle") {
			absent = append(absent, id)
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		out = append(out, recalled{id, c})
	}
	return out, absent, nil
}
