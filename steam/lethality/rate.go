// Package lethality adds up what a hold is worth, in minutes at a reference
// temperature: plainly (the usual z = 10 K), guarded (for decisions), and as a
// guaranteed lower bound from sparse readings.
//
// Figures are for the chamber, from the gauge, if the air is out. They never
// make a cycle good; the guaranteed dose can only fail one.
package lethality

import (
	"math"

	"mvuke/steam"
)

// Reference temperatures. Every printed F0 names the one it uses.
const (
	ReferenceF0  steam.Celsius = 121.1 // F0 as printed (250 degF is 121.11; several process pages, z = 10 K)
	Reference121 steam.Celsius = 121.0 // "equivalent minutes at 121 degC"
	zPlain                     = 10.0
	zLeast                     = 6.0 // the least z admitted for a test organism (ISO 11138-3, from memory)
)

// Plain is the usual lethal rate 10^((t - ref)/10 K). Check: 110 degC at 121.1 -> 0.07762.
func Plain(t, ref steam.Celsius) float64 {
	return math.Exp(math.Ln10 / zPlain * float64(t-ref))
}

// Arrhenius is the rate of a reaction whose z is 10 K at ref; it is never above Plain.
func Arrhenius(t, ref steam.Celsius) float64 {
	return math.Exp(-math.Ln10 / zPlain * ref.Kelvin() * float64(ref-t) / t.Kelvin())
}

// Guarded is the rate used for decisions: the least of Plain, Arrhenius and, below the
// reference, z = 6 K; nothing below 115 degC; never more than 1. Published work
// (van Doornmalen and Kopinga, J Appl Microbiol 2009, abstract) finds the plain model
// far too hopeful below 120 degC.
func Guarded(t steam.Celsius) float64 {
	const ref = ReferenceF0
	switch {
	case !(t >= steam.LeastCredited):
		return 0
	case t >= ref:
		return 1
	}
	return min(Plain(t, ref), Arrhenius(t, ref), Sharp(t, ref))
}

// Sharp is the rate with the least admitted z, for temperatures below ref.
func Sharp(t, ref steam.Celsius) float64 {
	return math.Exp(math.Ln10 / zLeast * float64(t-ref))
}
