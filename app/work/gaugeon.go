package work

import (
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Saying which gauge is on a pot.

// NewGauge says that another gauge was screwed on: an instrument of its own, with no comparison yet. What is found out of it touches only the loads that it watched, and what was found
// out of the old one only those before. It is known by the number on its dial, so that what was found of it is there again when it comes back: see OnThePot.
func (d *Desk) NewGauge(pot Pot, looks model.GaugeLooks) error {
	if looks.Serial = strings.TrimSpace(looks.Serial); looks.Serial == "" {
		return refuse("gauge-number")
	}
	if _, known, err := d.KnownGauge(pot, looks.Serial); err != nil {
		return err
	} else if known {
		return refuse("gauge-known", looks.Serial)
	}
	if err := checkGauge(looks); err != nil {
		return err
	}
	gauge := model.Ref{Noun: model.NounGauge, ID: d.NewID()}
	return d.screwOn(pot, gauge.ID, denied{}, entry.Draft{Kind: model.KindGauge, Targets: []model.Ref{gauge}, Payload: looks})
}

// KnownGauge is a pot with the gauge of a number, if there is one here: on this pot or another, now or before.
func (d *Desk) KnownGauge(pot Pot, serial string) (was Pot, ok bool, err error) {
	p, err := d.Place()
	if err != nil {
		return was, false, err
	}
	for _, x := range p.Pots {
		all, err := d.KnownGauges(x)
		if err != nil {
			return was, false, err
		}
		for _, g := range all {
			if strings.EqualFold(strings.TrimSpace(g.Gauge.Serial), strings.TrimSpace(serial)) {
				was = pot
				was.Looks.Gauge, was.Gauge, was.TwoDials, was.Also = g.Looks.Gauge, g.Gauge, g.TwoDials, nil
				return was, true, nil
			}
		}
	}
	return was, false, nil
}

// OnThePot says which of the gauges that are known here is on a pot: one of two that were told of at once, or one that comes back. neverOff: it was on all the time, and the other was told of by
// mistake.
func (d *Desk) OnThePot(pot Pot, gauge model.ID, neverOff bool) error {
	if !neverOff && len(pot.Also) == 0 {
		return d.screwOn(pot, gauge, denied{})
	}
	was, err := d.deniedBy(pot, gauge, neverOff)
	if err != nil {
		return err
	}
	return d.screwOn(pot, gauge, was)
}

// screwOn states a pot anew with a gauge. What was lit since words that said another were told is in doubt where it was lit by that one.
func (d *Desk) screwOn(pot Pot, gauge model.ID, was denied, with ...entry.Draft) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if open, err := d.UnderWay(); err != nil {
		return err
	} else if open != nil && open.Begun.Sterilizer == pot.ID {
		return refuse("cycle-under-way", short(float64(open.Begun.Number)))
	}
	now := pot.Looks
	now.Gauge, now.ValvePa, now.Screwed = gauge, pot.PlateValvePa, true
	var err error
	if len(was.words) == 0 {
		if was.since, err = d.Date(); err != nil {
			return err
		}
	} else {
		now.Since = max(was.since.UnixMilli(), 1)
	}
	if now.Knew, err = d.notBy(pot, gauge, was); err != nil {
		return err
	}
	stated := entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Payload: now}
	if err := d.read(func(src register.Source) { stated.Replaces = d.values(src, stated.Targets[0], model.KindSterilizer) }); err != nil {
		return err
	}
	_, err = d.sign(append(with, stated)...)
	return err
}

// notBy is how far each stream that lit a pot is known here, up to the first load by another gauge that this one may have watched: lit since a moment, but for a day, or nobody knows when.
func (d *Desk) notBy(pot Pot, gauge model.ID, was denied) ([]model.KnownUpTo, error) {
	knew, _, err := d.knownOf(pot)
	if err != nil {
		return nil, err
	}
	ids, err := d.Store.CyclesOf(pot.ID, 100_000)
	if err != nil {
		return nil, d.unread(err)
	}
	sets, err := d.Store.ByKind(model.KindClockSet)
	if err != nil {
		return nil, d.unread(err)
	}
	long := map[entry.Stream]uint64{} // the last load of a stream that was surely lit before: what came before it in its stream was, too
	var near []entry.Verified
	for _, id := range ids {
		c, err := d.beginning(id)
		if err != nil {
			return nil, err
		}
		lit, known := began(c, sets)
		for _, v := range c.State.Entries {
			var b model.CycleBegun
			read := v.Body().Decode(&b) == nil
			if known && !lit.After(was.since.Add(-gaugeSlack)) {
				if b.Source == model.Live { // a slip of long ago may be typed in today
					long[v.Body().Stream] = max(long[v.Body().Stream], v.Body().Seq)
				}
			} else if !read || b.Gauge != gauge {
				near = append(near, v)
			}
		}
	}
	for _, v := range near {
		stream := v.Body().Stream
		if v.Body().Seq < long[stream] {
			continue
		}
		for i := range knew {
			if string(knew[i].Stream) == string(stream[:]) {
				knew[i].Seq = min(knew[i].Seq, int64(v.Body().Seq)-1)
			}
		}
	}
	return knew, nil
}
