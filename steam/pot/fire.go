package pot

import (
	"math"
	"math/rand/v2"
)

// Fire is a bed of fuel under the pot. What is put on catches first, then glows, then burns down as fast as
// the draught lets it. A burner answers at once.
type Fire struct {
	Fuel    Fuel
	Draught float64 // 0 shut to 1 open
	Fresh   float64 // kg put on and not yet burning
	Bed     float64 // kg glowing
	Burnt   float64 // kg so far
	Most    float64 // W of a burner turned full on

	rng  *rand.Rand
	gust float64 // how much better or worse it burns just now
}

// Light makes a fire with kg on it. rng nil: it burns evenly.
func Light(f Fuel, kg float64, rng *rand.Rand) *Fire {
	return &Fire{Fuel: f, Draught: 1, Fresh: kg, Most: 3000, rng: rng}
}

// smoulder is the share of the burning that a shut draught leaves (an estimate, no source).
const smoulder = 0.08

// Burn lets seconds pass and gives the mean heat in that time that goes to the pot, W.
func (f *Fire) Burn(seconds float64) float64 {
	if f.Fuel.Burn == 0 {
		f.Burnt += f.Draught * f.Most * seconds / mid(f.Fuel.Efficiency) / mid(f.Fuel.Value)
		return f.Draught * f.Most
	}
	if f.rng != nil { // a wind that comes and goes over two minutes or so
		f.gust += -f.gust*seconds/120 + 0.12*math.Sqrt(seconds/60)*f.rng.NormFloat64()
	}
	caught := f.Fresh * (1 - math.Exp(-seconds/f.Fuel.Catch))
	f.Fresh -= caught
	f.Bed += caught
	speed := (smoulder + (1-smoulder)*f.Draught) * math.Exp(f.gust) / f.Fuel.Burn
	burnt := f.Bed * (1 - math.Exp(-seconds*speed))
	f.Bed -= burnt
	f.Burnt += burnt
	if seconds == 0 {
		return 0
	}
	return burnt / seconds * mid(f.Fuel.Value) * mid(f.Fuel.Efficiency)
}

// Feed puts fuel on.
func (f *Fire) Feed(kg float64) { f.Fresh += kg }

// Die lets the fire go out, as rain or neglect does; on a cold hearth new wood catches slowly.
func (f *Fire) Die() {
	f.Fresh, f.Bed = 0, f.Bed*0.04
	f.Fuel.Catch *= 4
}

// Draw takes the fire away; what the base of the pot holds still comes.
func (f *Fire) Draw() { f.Fresh, f.Bed, f.Draught = 0, 0, 0 }

// Full is the heat that it would give with the draught open, W.
func (f *Fire) Full() float64 {
	if f.Fuel.Burn == 0 {
		return f.Most
	}
	return f.Bed / f.Fuel.Burn * mid(f.Fuel.Value) * mid(f.Fuel.Efficiency)
}

func mid(r Range) float64 { return (r.Low + r.High) / 2 }
