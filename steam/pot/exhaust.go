package pot

import (
	"math"

	"mvuke/steam"
)

// vent is the opening, m2 (area x coefficient), through which the steam left in the time it took.
func (t Told) vent() float64 {
	ls := t.between(t.VentEnd, end(t.SteamOut))
	minutes := t.Zero - t.SteamOut
	if len(ls) == 0 || !(minutes > 0.5) {
		return math.NaN()
	}
	first := 2.4e-6
	m := ExhaustMinutes(t.Ambient, ls[len(ls)-1].T, t.Water-0.6, first)
	if math.IsNaN(m) {
		return math.NaN()
	}
	second := first * m / minutes // the time goes nearly as one over the opening
	return second * ExhaustMinutes(t.Ambient, ls[len(ls)-1].T, t.Water-0.6, second) / minutes
}

// ExhaustMinutes is how long the steam of a typical pot takes to leave through an opening (m2, area x
// coefficient) until the needle is within 1 kPa of zero. NaN where the figures cannot be.
func ExhaustMinutes(ambient steam.Absolute, from steam.Celsius, water, opening float64) float64 {
	b := Typical(ambient)
	b.Load, b.Packs, b.ReliefAt = b.Packs.Heat/2, Packs{}, 0
	if opening > b.Valve {
		b.Valve = opening
	}
	p, err := New(b, Start{T: from, Water: max(water, 0.5)})
	if err != nil {
		return math.NaN()
	}
	p.Hands.Valve = opening / b.Valve
	for s := 0.0; s < 5400; s += 2 {
		if p.State().Over <= 1000 {
			return s / 60
		}
		p.Advance(2)
	}
	return 90
}
