package pot

import (
	"math"
	"math/rand/v2"

	"mvuke/steam"
)

// Dial is the gauge on the simulated pot, with the error that it really has.
type Dial struct {
	Unit  steam.Unit
	Span  float64 // dial's unit
	Line  float64
	Zero  float64  // what it shows too much at rest, dial's unit
	Slope float64  // what it shows too much at the end of the scale beyond Zero, dial's unit
	Stuck *float64 // where the needle hangs; nil: it moves
}

// Faulty draws a dial whose error stays within a class (per cent of span) everywhere, often near its edge.
func Faulty(u steam.Unit, span, line, class float64, rng *rand.Rand) Dial {
	most := class / 100 * span
	zero := most * (2*rng.Float64() - 1) * 0.5
	end := most * math.Copysign(math.Sqrt(rng.Float64()), 2*rng.Float64()-1)
	return Dial{Unit: u, Span: span, Line: line, Zero: zero, Slope: end - zero}
}

// Needle is where the needle stands, in the dial's unit.
func (d Dial) Needle(p steam.Over) float64 {
	if d.Stuck != nil {
		return *d.Stuck
	}
	v := d.Unit.Of(p)
	v += d.Zero + d.Slope*v/d.Span
	return min(max(v, -0.02*d.Span), d.Span)
}

// Read is what a person reads off: the nearest half line, after an eye that may be a quarter of a line off;
// together never more than half a line.
func (d Dial) Read(p steam.Over, rng *rand.Rand) float64 {
	half := d.Line / 2
	eye := 0.0
	if rng != nil {
		eye = (2*rng.Float64() - 1) * half / 2
	}
	return math.Round((d.Needle(p)+eye)/half) * half
}

// ReadRest is what is read off a needle at rest: nothing moves and there is time, so to a quarter of a line.
func (d Dial) ReadRest() float64 {
	q := d.Line / 4
	return math.Round(d.Needle(0)/q) * q
}
