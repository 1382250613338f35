package work

import (
	"time"

	"mvuke/model"
)

// How far what is here of a clinic goes: what a month needs to be whole.

// A reach is from when to when what is here of a clinic goes, by the clocks of its devices.
type reach struct {
	from, upTo time.Time
	devices    []deviceReach // those that were not taken out
}

type deviceReach struct{ since, upTo time.Time }

// needs is the day to which what is here of somebody must reach, to be whole: the end of the month, or its beginning while it lasts.
func (m Month) needs(now time.Time) time.Time {
	if now.Before(m.To) {
		return m.From
	}
	return m.To
}

// reported says whether what is here of a clinic, from a day up to another, reaches over the end of the month, or into it while it lasts, and begins before it is over.
func (m Month) reported(from, upTo, now time.Time) bool {
	return !upTo.IsZero() && !upTo.Before(m.needs(now)) && from.Before(m.To)
}

// behind counts, of several devices, those that had been let in by then and of which what is here does not reach so far.
func (r reach) behind(m Month, now time.Time) (n int) {
	if len(r.devices) < 2 {
		return 0
	}
	for _, x := range r.devices {
		if x.since.Before(m.To) && x.upTo.Before(m.needs(now)) {
			n++
		}
	}
	return n
}

// reach is how far what is here of each site goes.
func (d *Desk) reach() (map[model.ID]reach, error) {
	devices, err := d.Devices()
	if err != nil {
		return nil, err
	}
	now, err := d.Date()
	if err != nil {
		return nil, err
	}
	out := map[model.ID]reach{}
	came := map[model.ID]time.Time{} // nothing reaches further than the stick that brought it
	for _, x := range devices {
		if _, asked := came[x.Site]; !asked && !x.Own {
			if came[x.Site], err = d.Store.LastArrival(x.Site, now); err != nil {
				return nil, d.unread(err)
			}
		}
		r := out[x.Site]
		at := time.UnixMilli(x.Last).UTC()
		if day := came[x.Site]; !day.IsZero() && at.After(day.AddDate(0, 0, 1)) {
			at = day.AddDate(0, 0, 1)
		}
		if x.Last > 0 && at.After(r.upTo) {
			r.upTo = at
		}
		if !x.Removed {
			r.devices = append(r.devices, deviceReach{time.UnixMilli(x.Since), at})
		}
		first, err := d.firstDay(x.Stream)
		if err != nil {
			return nil, err
		}
		if !first.IsZero() && (r.from.IsZero() || first.Before(r.from)) {
			r.from = first
		}
		out[x.Site] = r
	}
	return out, nil
}
