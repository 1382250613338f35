package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// newest is the wall time of the newest entry whose clock was not in doubt; of another device's, a day before it, since clocks
// differ a little. It is looked for among the last entries, loads, packs and counts of stock once, and kept up with each act.
func (d *Desk) newest() time.Time {
	if !d.sure.IsZero() {
		return d.sure
	}
	vs, err := d.Store.Last(200)
	if err != nil {
		return d.sure // an unreadable register is told elsewhere
	}
	own, heard, err := d.house()
	if err != nil {
		return d.sure
	}
	for _, k := range []model.Kind{model.KindCycleBegun, model.KindPackMade, model.KindStock} {
		more, err := d.Store.LatestOf(k, 50, own...)
		if err != nil {
			return d.sure
		}
		vs = append(vs, more...)
	}
	_ = d.read(func(src register.Source) { // an unreadable register is told elsewhere
		for _, v := range vs { // a far clinic's wrong clock is no measure of ours, nor is that of a device that is taken out
			if slices.Contains(heard, v.Body().Stream) && !src.Roster().Gone(v) {
				d.saw(v)
			}
		}
	})
	return d.sure
}

// othersClock is how far the clocks of two devices may be apart without doubt: a day, common practice, no source.
const othersClock = 24 * time.Hour

func (d *Desk) saw(v entry.Verified) {
	b := v.Body()
	w := time.UnixMilli(b.Wall)
	if b.Stream != d.author.Stream {
		w = w.Add(-othersClock)
	}
	if b.Clock != model.ClockDoubtful && w.After(d.sure) {
		d.sure = w
	}
}

// ClockDoubtful says whether the device's date can be right, asked anew each time; a person's
// answer in this start settles it.
func (d *Desk) ClockDoubtful() bool {
	if d.state == model.ClockSaid {
		return false
	}
	if d.author == nil {
		return d.Clock.Now().Wall.Before(Built)
	}
	doubt := model.Doubt(d.Clock.Now().Wall, Built, d.newest())
	d.state = model.ClockGood
	if doubt {
		d.state = model.ClockDoubtful
	}
	return doubt
}

// AskDate says whether the person is to be asked for the date: in doubt, and once a start.
func (d *Desk) AskDate() bool { return !d.asked && d.author != nil && d.ClockDoubtful() }

// AnswerDate records what the person says the date is; zero: "I do not know", and work goes
// on with doubtful dates. The device's own clock is not touched.
func (d *Desk) AnswerDate(is time.Time) error {
	d.asked = true
	now := d.Clock.Now().Wall
	c := model.ClockSet{Was: now.UnixMilli(), Known: !is.IsZero()}
	if c.Known {
		if is.Before(Built) || (!d.newest().IsZero() && is.Before(d.newest().Add(-24*time.Hour))) {
			d.asked = false
			return refuse("date-too-early")
		}
		c.Is = is.UnixMilli()
	}
	_, err := d.sign(entry.Draft{Kind: model.KindClockSet, Payload: c})
	if err != nil {
		return err
	}
	if c.Known {
		d.state = model.ClockSaid
	}
	return d.stopFreedByDates()
}

// Corrected gives the wall time of an entry after the corrections of its own device: an answer
// moves the whole span of doubtful entries of its boot by one amount. known is false
// where the date is still in doubt.
func (d *Desk) Corrected(v entry.Verified) (t time.Time, known bool, err error) {
	if b := v.Body(); b.Clock == model.ClockGood {
		return time.UnixMilli(b.Wall), true, nil
	}
	sets, err := d.Store.ByKind(model.KindClockSet)
	if err != nil {
		return time.UnixMilli(v.Body().Wall), false, err
	}
	t, known = corrected(v, sets)
	return t, known, nil
}

// now is the time by what a person said of the date in this run of the machine, else by the wall.
func (d *Desk) now(sets []entry.Verified) time.Time {
	m := d.Clock.Now()
	if d.state != model.ClockSaid {
		return m.Wall
	}
	at := m.Wall
	for _, s := range sets {
		var c model.ClockSet
		if b := s.Body(); b.Stream == d.author.Stream && b.Boot == m.Boot && b.Decode(&c) == nil && c.Known {
			at = time.UnixMilli(c.Is).Add(m.Elapsed - time.Duration(b.Elapsed)*time.Millisecond)
		}
	}
	return at
}

// Date is the time by what a person said of it in this run of the machine, else by the wall.
func (d *Desk) Date() (time.Time, error) {
	sets, err := d.Store.ByKind(model.KindClockSet)
	if err != nil {
		return time.Time{}, d.unread(err)
	}
	return d.now(sets), nil
}

// corrected applies the answers that people gave about the date.
func corrected(v entry.Verified, sets []entry.Verified) (t time.Time, known bool) {
	b := v.Body()
	t = time.UnixMilli(b.Wall)
	if b.Clock == model.ClockGood {
		return t, true
	}
	for _, s := range sets {
		var c model.ClockSet
		if s.Body().Stream != b.Stream || s.Body().Boot != b.Boot || s.Body().Decode(&c) != nil || !c.Known {
			continue
		}
		// by the running clock, not by the wall: the two entries are of one run of the machine
		run := time.Duration(b.Elapsed-s.Body().Elapsed) * time.Millisecond
		t, known = time.UnixMilli(c.Is).Add(run), true
	}
	return t, known
}

// Began is when a cycle began: for a slip the day and hour written on it, else its first entry's
// time after corrections. known is false where the date is in doubt.
func (d *Desk) Began(c register.Cycle) (t time.Time, known bool, err error) {
	sets, err := d.Store.ByKind(model.KindClockSet)
	if err != nil {
		return t, false, err
	}
	t, known = began(c, sets)
	return t, known, nil
}

func began(c register.Cycle, sets []entry.Verified) (t time.Time, known bool) {
	if c.Begun.Source == model.FromPaper {
		return time.UnixMilli(c.Begun.Begun), c.Entry.Body().Clock == model.ClockGood
	}
	return corrected(c.Entry, sets)
}

// LastSure is the time of the newest entry of this device whose date is not in doubt.
func (d *Desk) LastSure() time.Time { return d.newest() }
