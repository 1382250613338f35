package steam

import (
	"fmt"
	"math"
	"strings"
)

// Unit is the unit printed on a dial.
type Unit string

// The units met on dials of this trade, and those of barometers.
const (
	KPa  Unit = "kPa"
	Bar  Unit = "bar"
	MPa  Unit = "MPa"
	Psi  Unit = "psi"
	Kgf  Unit = "kgf/cm2"
	InHg Unit = "inHg"
	HPa  Unit = "hPa"
	MmHg Unit = "mmHg"
)

// DialUnits are the units offered for a gauge, in the order they are shown.
var DialUnits = []Unit{KPa, Bar, Psi, Kgf, MPa, InHg}

// pascals holds the size of each unit. psi is 0.45359237 kg x 9.80665 / (0.0254 m)^2,
// exact; kgf/cm2 exact; inHg and mmHg conventional (NIST SP 811 appendix B.8).
var pascals = map[Unit]float64{
	KPa: 1e3, Bar: 1e5, MPa: 1e6, HPa: 100,
	Psi: 6894.757293168361, Kgf: 98066.5, InHg: 3386.389, MmHg: 133.322387415,
}

// usualLine is the finest line usually printed on a dial in this unit
// (common practice, no source); used when nobody said otherwise.
var usualLine = map[Unit]float64{KPa: 5, Bar: 0.1, MPa: 0.01, Psi: 1, Kgf: 0.1, InHg: 1}

// ParseUnit reads a unit as people write it ("lb/in2", "kg/cm2", "KPA").
func ParseUnit(s string) (Unit, error) {
	key := strings.ToLower(strings.NewReplacer(" ", "", "²", "2", "^", "").Replace(s))
	names := map[string]Unit{
		"kpa": KPa, "bar": Bar, "mpa": MPa, "psi": Psi, "psig": Psi, "lb/in2": Psi, "lbf/in2": Psi, "lb": Psi,
		"kgf/cm2": Kgf, "kg/cm2": Kgf, "at": Kgf, "inhg": InHg, "hpa": HPa, "mbar": HPa, "mmhg": MmHg,
	}
	if u, ok := names[key]; ok {
		return u, nil
	}
	return "", fmt.Errorf("unit %q is not one this program knows; use kPa, bar, MPa, psi, kgf/cm2 or inHg", s)
}

// Pascals is the size of one unit.
func (u Unit) Pascals() float64 { return pascals[u] }

// Known says whether u is a unit of this package.
func (u Unit) Known() bool { return pascals[u] != 0 }

// UsualLine is the finest line usually printed on a dial in u.
func (u Unit) UsualLine() float64 { return usualLine[u] }

// Over turns a figure read off a dial in u into pascals.
func (u Unit) Over(v float64) Over { return Over(v * pascals[u]) }

// Of gives p as a figure in u.
func (u Unit) Of(p Over) float64 { return float64(p) / pascals[u] }

// roundUp gives the smallest multiple of step that is not below v. A thousandth of a
// billionth is forgiven, so that 124.999999999999 from arithmetic is not 130.
func roundUp(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return tidy(math.Ceil(v/step-1e-9) * step)
}

// roundDown gives the largest multiple of step that is not above v.
func roundDown(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return tidy(math.Floor(v/step+1e-9) * step)
}

// tidy drops the dust of binary fractions, so that 1.2500000000000002 prints as 1.25.
func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }
