package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// agoLately is how many spore tests and comparisons of a clinic are gone through for the last that counts.
const agoLately = 50

// agoAt is how many days before a moment a clinic's last valid negative test was laid in, among those read by then, and how many its last comparison of a gauge lies back, by the clocks of
// its devices, which may stand ahead by some slack. -1: there is none. by is that comparison.
func (d *Desk) agoAt(site model.ID, end time.Time, slack time.Duration) (negative, compared int, by entry.Verified, err error) {
	negative, compared = -1, -1
	own, err := d.streamsOf(site)
	if err != nil || len(own) == 0 {
		return negative, compared, by, err
	}
	before := func(v entry.Verified) bool { return v.Body().Wall <= end.Add(slack).UnixMilli() }
	ago := func(v entry.Verified) int {
		return max(0, int(end.Sub(time.UnixMilli(v.Body().Wall)).Hours()/24))
	}
	latest := func(k model.Kind, most int) (out []entry.Verified, err error) { // newest first
		n := 0
		vs, err := d.Store.LatestWhile(k, func(v entry.Verified) bool {
			if before(v) {
				n++
			}
			return n <= most
		}, own...)
		if err != nil {
			return nil, d.unread(err)
		}
		return slices.DeleteFunc(vs, func(v entry.Verified) bool { return !before(v) }), nil
	}
	for seen, most := 0, 2; negative < 0 && most <= agoLately; seen, most = most, most*5 { // nearly always it is the newest that was read
		placed, err := latest(model.KindSporePlaced, most)
		if err != nil {
			return -1, -1, by, err
		}
		for _, v := range placed[min(seen, len(placed)):] {
			if negative < 0 && d.provedNegative(v, before) {
				negative = ago(v)
			}
		}
	}
	told, err := latest(model.KindCompared, agoLately)
	if err != nil {
		return -1, -1, by, err
	}
	gone := register.TakenBack(told, d.allows)
	for _, v := range told {
		if c, ok := comparedIn(v); ok && !c.takesBack() && gone[v.ID()] == nil {
			return negative, ago(v), v, nil
		}
	}
	return negative, -1, by, nil
}

// provedNegative says whether a spore test was laid in by an entry, and read as a valid negative by a moment.
func (d *Desk) provedNegative(placed entry.Verified, by func(entry.Verified) bool) bool {
	return slices.ContainsFunc(placed.Body().Refs(), func(r model.Ref) bool {
		if r.Noun != model.NounTest {
			return false
		}
		t, err := d.sporeSaid(r.ID) // one that is claimed by a device that is not known here says nothing
		return err == nil && t.Said == model.SporeNegative && by(t.ReadBy)
	})
}
