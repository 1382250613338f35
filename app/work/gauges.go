package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// The gauges of a pot: the one that is on it, and those that were on it before. What is found out of an earlier one, with the gauge in the hand, is about the loads that it watched; no mark is made by it
// any more.

// EarlierGauges is a pot as it was with each gauge that is screwed off now, the latest first.
func (d *Desk) EarlierGauges(pot Pot) (out []Pot, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return nil, err
	}
	on := append([]model.ID{pot.Looks.Gauge}, pot.Also...)
	err = d.read(func(src register.Source) {
		for _, v := range slices.Backward(st.Entries) {
			for _, id := range gaugesIn(v) {
				if !slices.Contains(on, id) {
					on = append(on, id)
					out = append(out, pot.with(src, id))
				}
			}
		}
	})
	return out, err
}

// gaugesIn are the gauges that an entry about a pot says were on it: a description of the pot, or a comparison.
func gaugesIn(v entry.Verified) (out []model.ID) {
	var x model.Sterilizer
	if v.Body().Kind == model.KindSterilizer && v.Body().Decode(&x) == nil {
		return []model.ID{x.Gauge}
	}
	if c, ok := comparedIn(v); ok && !c.takesBack() {
		for _, r := range v.Body().Refs() {
			if r.Noun == model.NounGauge {
				out = append(out, r.ID)
			}
		}
	}
	return out
}

// with is a pot with one of its gauges on it.
func (p Pot) with(src register.Source, gauge model.ID) Pot {
	p.Looks.Gauge, p.Also, p.TwoDials = gauge, nil, false
	p.readGauge(src)
	return p
}

// MaybeOn is a pot with each of the gauges that may be on it; one, where nobody has said that it is another.
func (d *Desk) MaybeOn(pot Pot) (out []Pot, err error) {
	err = d.read(func(src register.Source) {
		for _, id := range append([]model.ID{pot.Looks.Gauge}, pot.Also...) {
			out = append(out, pot.with(src, id))
		}
	})
	return out, err
}

// KnownGauges is a pot with each gauge that is known of it: those that may be on it first.
func (d *Desk) KnownGauges(pot Pot) ([]Pot, error) {
	on, err := d.MaybeOn(pot)
	if err != nil {
		return nil, err
	}
	off, err := d.EarlierGauges(pot)
	return append(on, off...), err
}

// ofGauge says whether an entry is about a gauge.
func ofGauge(v entry.Verified, gauge model.ID) bool {
	return slices.Contains(v.Body().Refs(), model.Ref{Noun: model.NounGauge, ID: gauge})
}
