package work

import (
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// What a comparison or an altitude that was put right says of loads already made: those that it puts in doubt are held by name, until somebody in charge clears each.

// windowMost bounds the loads that are looked back on.
const windowMost = 2000

// doubtful are the loads made with a gauge since its last comparison whose plan counted on a smaller error than was found now, and a hold on each.
func (d *Desk) doubtful(pot Pot, c model.Compared) (n int, holds []entry.Draft, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
	if err != nil {
		return 0, nil, err
	}
	var last entry.Verified
	for _, v := range st.Entries {
		if v.Body().Kind == model.KindCompared {
			last = v
		}
	}
	worst := int64(0)
	for _, p := range c.Points {
		worst = max(worst, p.ErrorMilli+c.ReferenceMilli)
	}
	found := int64(steam.Unit(pot.Gauge.Unit).Over(float64(worst) / 1000))
	return d.hold(pot, "gauge", func(x register.Cycle) bool {
		since := last.IsZero() || entry.Less(last, x.Entry) < 0
		return since && x.Begun.Gauge == pot.Looks.Gauge && found > counted(x.Begun.Plan)
	})
}

// counted is the error that a plan allowed for: what its gauge was known to show too much, and what it may err besides.
func counted(f model.FrozenPlan) int64 {
	high := int64(0)
	for _, c := range f.Corrections {
		high = max(high, int64(steam.Unit(f.Unit).Over(float64(c.ErrorMilli)/1000)))
	}
	return high + f.ErrorPa
}

// tooLow are the loads of a site's pots whose plan asked for less than an altitude that is stated now needs, and a hold on each.
func (d *Desk) tooLow(site model.Site) (holds []entry.Draft, err error) {
	air, err := Air(site).Air()
	if err != nil {
		return nil, wrap(err, "altitude")
	}
	need, err := steam.Need(121, air)
	if err != nil {
		return nil, wrap(err, "altitude")
	}
	p, err := d.Place()
	if err != nil {
		return nil, err
	}
	for _, pot := range p.Pots {
		_, more, err := d.hold(pot, "altitude", func(x register.Cycle) bool { return x.Begun.Plan.NeedPa+softerPa < int64(need) })
		if err != nil {
			return nil, err
		}
		holds = append(holds, more...)
	}
	return holds, nil
}

// hold makes a hold for each load of a pot that is in doubt and was not given up or rejected.
func (d *Desk) hold(pot Pot, why string, inDoubt func(register.Cycle) bool) (n int, out []entry.Draft, err error) {
	ids, err := d.Store.CyclesOf(pot.ID, windowMost)
	if err != nil {
		return 0, nil, d.unread(err)
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return 0, nil, err
		}
		if len(c.Begun.Packs) == 0 || c.Aborted() || len(c.Rejected) > 0 || !inDoubt(c) {
			continue
		}
		n++
		out = append(out, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{c.State.Ref}, Payload: model.Hold{Code: HoldStopped, Reason: why}})
	}
	return n, out, nil
}
