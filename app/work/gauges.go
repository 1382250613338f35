package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// The gauges that were on a pot before. What is found out of one later, with the gauge in the hand, is about the loads that it watched; no mark is made by it any more.

// EarlierGauges is a pot as it was with each gauge that was compared and is screwed off now, the latest first.
func (d *Desk) EarlierGauges(pot Pot) (out []Pot, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return nil, err
	}
	seen := map[model.ID]bool{pot.Looks.Gauge: true}
	err = d.read(func(src register.Source) {
		for _, v := range slices.Backward(st.Entries) {
			if c, ok := comparedIn(v); !ok || c.takesBack() {
				continue
			}
			for _, r := range v.Body().Refs() {
				if r.Noun != model.NounGauge || seen[r.ID] {
					continue
				}
				seen[r.ID] = true
				p := pot
				p.Looks.Gauge, p.TwoDials = r.ID, false
				p.readGauge(src)
				out = append(out, p)
			}
		}
	})
	return out, err
}

// ofGauge says whether an entry is about a gauge.
func ofGauge(v entry.Verified, gauge model.ID) bool {
	return slices.Contains(v.Body().Refs(), model.Ref{Noun: model.NounGauge, ID: gauge})
}
