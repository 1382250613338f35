package pot

import (
	"math"
	"slices"
)

// Figure is one parameter of a pot, learnt from its own cycles: the middle value and its spread.
type Figure struct {
	Mid, Low, High float64
	From           []int64 // numbers of the cycles that told it
}

// Known says whether enough cycles told it.
func (f Figure) Known() bool { return len(f.From) >= LeastCycles }

// most and least are the spread without outliers: one strange cycle among few must not make the next look usual.
func (f Figure) most() float64  { return min(f.High, 1.4*f.Mid) }
func (f Figure) least() float64 { return max(f.Low, 0.7*f.Mid) }

// LeastCycles is the number of cycles below which nothing is learnt.
const LeastCycles = 3

// Known is what a pot's own logged cycles tell about it. A figure that fewer than LeastCycles cycles tell is
// empty. It advises; no verdict rests on it.
type Known struct {
	Boil    Figure // min, from lighting to steady steam
	Warm    Figure // W, useful, in that time
	Rise    Figure // W, useful, from the shut valve to the line
	Climb   Figure // min, from the shut valve to the line
	Heat    Figure // K/min, the fastest rise seen with the valve shut
	Cool    Figure // K/min, the fastest fall
	Loss    Figure // W/K
	Lag     Figure // s that the fire goes on after the draught is closed
	Vent    Figure // m2, opening when the steam is let out
	Exhaust Figure // min, until zero
}

// Learn works the figures out. Cycles in which somebody did something else tell nothing: each figure is the middle of what the
// cycles say, and its spread is their range (the tenth to the ninetieth part from ten cycles on).
func Learn(cycles []Told) Known {
	n := len(cycles)
	all := make([][]float64, 10)
	for i := range all {
		all[i] = make([]float64, n)
	}
	for i, t := range cycles {
		heat, cool := t.fastest()
		climb, _ := t.climb()
		for k, v := range []float64{t.VentStart - t.Lit, t.warming(), t.rising(), climb, heat, cool, t.losing(), t.lagging(), t.vent(), t.Zero - t.SteamOut} {
			all[k][i] = v
		}
	}
	figure := func(k int) (f Figure) {
		var vs []float64
		for i, v := range all[k] {
			if v > 0 && !math.IsInf(v, 0) {
				vs = append(vs, v)
				f.From = append(f.From, cycles[i].Number)
			}
		}
		if len(vs) < LeastCycles {
			return Figure{}
		}
		slices.Sort(vs)
		cut := 0
		if len(vs) >= 10 {
			cut = len(vs) / 10
		}
		f.Mid, f.Low, f.High = middle(vs), vs[cut], vs[len(vs)-1-cut]
		return f
	}
	return Known{figure(0), figure(1), figure(2), figure(3), figure(4), figure(5), figure(6), figure(7), figure(8), figure(9)}
}

func middle(sorted []float64) float64 {
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// Change is a pot that does not do what it used to.
type Change string

// Changes, each with its usual causes (common practice, no source).
const (
	SlowerExhaust Change = "slower-exhaust" // the valve is blocked: do not open
	FasterExhaust Change = "faster-exhaust" // less water than was said
	SlowerRise    Change = "slower-rise"    // wet wood, a leaking seal
	SlowerBoil    Change = "slower-boil"    // wet wood, or more water than was said
	FasterRise    Change = "faster-rise"    // air inside: the needle comes up too soon
)

// Changed is one change with what was usual and what was seen.
type Changed struct {
	Change      Change
	Usual, Seen float64 // min
}

// clearly is the factor beyond the spread of the earlier cycles that counts as another behaviour.
const clearly = 1.35

// Changes compares the last of the cycles with those before it; it needs LeastCycles of them.
func Changes(cycles []Told) (out []Changed) {
	if len(cycles) <= LeastCycles {
		return nil
	}
	last, before := cycles[len(cycles)-1], Learn(cycles[:len(cycles)-1])
	if v := last.vent(); before.Vent.Known() && v > 0 {
		ls := last.between(last.VentEnd, end(last.SteamOut)) // some: they told the opening
		usual := ExhaustMinutes(last.Ambient, ls[len(ls)-1].T, last.Water-0.6, before.Vent.Mid)
		switch {
		case v < before.Vent.least()/clearly:
			out = append(out, Changed{SlowerExhaust, usual, last.Zero - last.SteamOut})
		case v > before.Vent.most()*clearly:
			out = append(out, Changed{FasterExhaust, usual, last.Zero - last.SteamOut})
		}
	}
	climb, _ := last.climb()
	switch v, w := last.rising(), last.warming(); {
	case before.Rise.Known() && v > before.Rise.most()*clearly:
		out = append(out, Changed{FasterRise, before.Climb.Mid, climb})
	case before.Rise.Known() && v < before.Rise.least()/clearly:
		out = append(out, Changed{SlowerRise, before.Climb.Mid, climb})
	case before.Warm.Known() && w < before.Warm.least()/clearly:
		out = append(out, Changed{SlowerBoil, before.Boil.Mid, last.VentStart - last.Lit})
	}
	return out
}
