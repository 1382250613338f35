package work

import (
	"slices"
	"strings"
	"time"

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
	return d.screwOn(pot, gauge.ID, nil, entry.Draft{Kind: model.KindGauge, Targets: []model.Ref{gauge}, Payload: looks})
}

// KnownGauge is a pot with the gauge of a number, if there is one here: on this pot or another, now or before.
func (d *Desk) KnownGauge(pot Pot, serial string) (was Pot, ok bool, err error) {
	p, err := d.Place()
	if err != nil {
		return was, false, err
	}
	for _, x := range p.Pots {
		on, err := d.MaybeOn(x)
		if err != nil {
			return was, false, err
		}
		off, err := d.EarlierGauges(x)
		if err != nil {
			return was, false, err
		}
		for _, g := range append(on, off...) {
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
		return d.screwOn(pot, gauge, nil)
	}
	var stood []entry.Verified
	if err := d.read(func(src register.Source) {
		st := register.Of(src, model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
		stood = append(register.Values(st, model.KindSterilizer), register.Doubted(src, st, model.KindSterilizer)...)
	}); err != nil {
		return err
	}
	var others []entry.Verified // that said another
	for _, v := range stood {
		if !slices.Contains(gaugesIn(v), gauge) {
			others = append(others, v)
		}
	}
	return d.screwOn(pot, gauge, others)
}

// screwOn states a pot anew with a gauge. others are the words that another was on it, which were wrong: what was lit since is in doubt where it was lit by that one.
func (d *Desk) screwOn(pot Pot, gauge model.ID, others []entry.Verified, with ...entry.Draft) error {
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
	since, err := d.sinceTold(others)
	if err != nil {
		return err
	}
	if len(others) > 0 {
		now.Since = max(since.UnixMilli(), 1)
	}
	if now.Knew, err = d.notBy(pot, gauge, since, others); err != nil {
		return err
	}
	stated := entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}, Payload: now}
	if err := d.read(func(src register.Source) { stated.Replaces = d.values(src, stated.Targets[0], model.KindSterilizer) }); err != nil {
		return err
	}
	_, err = d.sign(append(with, stated)...)
	return err
}

// sinceTold is the first moment at which one of some words was told, now where there are none; the beginning of all time where that is not known.
func (d *Desk) sinceTold(words []entry.Verified) (since time.Time, err error) {
	if since, err = d.Date(); err != nil {
		return since, err
	}
	for _, v := range words {
		at, known, err := d.Corrected(v)
		if err != nil {
			return since, err
		}
		if !known {
			return time.UnixMilli(0), nil
		}
		if at.Before(since) {
			since = at
		}
	}
	return since, nil
}

// notBy is how far each stream that lit a pot is known here, up to the first load by another gauge that this one may have watched: lit since a moment, but for a day, or in knowledge of one of some words that
// were wrong; the latest also where nobody knows when it was lit.
func (d *Desk) notBy(pot Pot, gauge model.ID, since time.Time, words []entry.Verified) ([]model.KnownUpTo, error) {
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
	for i, id := range ids { // newest first
		c, err := d.beginning(id)
		if err != nil {
			return nil, err
		}
		lit, known := began(c, sets)
		for _, v := range c.State.Entries {
			var b model.CycleBegun
			if v.Body().Decode(&b) == nil && b.Gauge == gauge {
				continue
			}
			by := slices.ContainsFunc(words, func(w entry.Verified) bool { return slices.Contains(v.Body().Relies, w.ID()) })
			if near := (known && lit.After(since.Add(-gaugeSlack))) || (!known && i == 0); !by && !near {
				continue
			}
			stream := v.Body().Stream
			for i := range knew {
				if string(knew[i].Stream) == string(stream[:]) {
					knew[i].Seq = min(knew[i].Seq, int64(v.Body().Seq)-1)
				}
			}
		}
	}
	return knew, nil
}
