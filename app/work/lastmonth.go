package work

import "time"

// The last whole month of one clinic, in one figure.

// MonthRate is what was released at a clinic in a month.
type MonthRate struct {
	Of             time.Time // its first day
	Reported       bool      // what is here of the clinic reaches over its end
	Released, Held int
}

// LastMonth is what was released at a clinic in the last whole month.
func (d *Desk) LastMonth(s Standing) (r MonthRate, err error) {
	if err := d.standingNow(); err != nil {
		return r, err
	}
	if r, ok := d.standing.months[s.ID]; ok {
		return r, nil
	}
	if r, err = d.lastMonth(s); err == nil {
		d.standing.months[s.ID] = r
	}
	return r, err
}

func (d *Desk) lastMonth(s Standing) (r MonthRate, err error) {
	now, err := d.Date()
	if err != nil {
		return r, err
	}
	last := now.AddDate(0, 0, -now.Day())
	m := monthOf(last.Year(), last.Month())
	r.Of = m.From
	first, err := d.firstDay(s.Devices...)
	if err != nil || !m.reported(first, s.LastAt, now) {
		return r, err
	}
	r.Reported = true
	var f Figures
	cycles, _, err := d.cyclesIn(s.ID, m)
	for _, c := range cycles {
		if err == nil {
			_, err = d.outcome(&f, c)
		}
	}
	r.Released, r.Held = f.Released, f.Held
	return r, err
}
