package pot

import (
	"math"
	"slices"

	"mvuke/steam"
)

// Told is what a pot's log tells of one cycle: minutes from its beginning, NaN for what was not written down.
type Told struct {
	Number                                         int64
	Ambient                                        steam.Absolute
	Water                                          float64 // kg at the start
	Lit, VentStart, VentEnd, Drawn, SteamOut, Zero float64
	Tamed                                          []float64 // draught closed
	Died                                           []float64 // fire burnt low
	Looks                                          []Seen
	Line                                           steam.Celsius // of the restart line
	Left                                           float64       // kg of water measured at the end
}

// Seen is one look: the temperature that the gauge means, without its errors.
type Seen struct {
	Minute float64
	T      steam.Celsius
}

// Typical is what is counted for a pot that nobody has weighed: that of the reference, give or take a quarter. The rates
// that are learnt do not rest on it; the watts do.
func Typical(ambient steam.Absolute) Body {
	b := Reference()
	b.Ambient = ambient
	return b
}

// CapacitySpread is how far a pot's heat capacity may be from the typical one.
const CapacitySpread = 0.25

// typicalCapacity is the heat of one kelvin, J/K, with w kg of water.
func typicalCapacity(w float64, t steam.Celsius) float64 {
	b := Reference()
	cp := 4200.0
	if s, err := steam.Saturation(t); err == nil {
		cp = s.Liquid.Cp
	}
	return w*cp + b.Metal + b.Packs.Heat
}

func (t Told) boil() steam.Celsius {
	c, err := steam.Tsat(t.Ambient)
	if err != nil {
		return 100
	}
	return c
}

// between are the looks from one minute to another.
func (t Told) between(from, to float64) (out []Seen) {
	for _, l := range t.Looks {
		if l.Minute >= from && l.Minute <= to {
			out = append(out, l)
		}
	}
	return out
}

// power finds the fire that brings the pot from one temperature to another in so many seconds.
func power(seconds float64, c float64, around, from, to steam.Celsius) float64 {
	if !(seconds > 30) || to <= from {
		return math.NaN()
	}
	b := Reference()
	low, high := 50.0, 20000.0
	for range 50 {
		mid := (low + high) / 2
		if s, err := Warmup(mid, b.Loss, around, c, from, to); err != nil || s > seconds {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// warming is the useful power, W, from lighting to steady steam.
func (t Told) warming() float64 {
	return power((t.VentStart-t.Lit)*60, typicalCapacity(t.Water, 60), 25, 25, t.boil())
}

// rising is the useful power, W, from the shut valve to the first look at or above the line.
func (t Told) rising() float64 {
	minutes, to := t.climb()
	return power(minutes*60, typicalCapacity(t.Water-0.5, 110), 25, t.boil(), to)
}

// climb is the time from the shut valve to the first look at or above the line, and what was seen then.
func (t Told) climb() (minutes float64, at steam.Celsius) {
	for _, l := range t.between(t.VentEnd, math.Inf(1)) {
		if l.T >= t.Line {
			return l.Minute - t.VentEnd, l.T
		}
	}
	return math.NaN(), 0
}

// fastest are the fastest rise and fall between two looks with the valve shut, K/min.
func (t Told) fastest() (heat, cool float64) {
	heat, cool = math.NaN(), math.NaN()
	ls := t.between(t.VentEnd, end(t.SteamOut))
	for i := 1; i < len(ls); i++ {
		d := ls[i].Minute - ls[i-1].Minute
		if d < 0.5 {
			continue
		}
		r := float64(ls[i].T-ls[i-1].T) / d
		heat = maxOf(heat, r)
		cool = maxOf(cool, -r)
	}
	return heat, cool
}

// losing is the heat loss, W/K, told by a fall after the fire had burnt low or was drawn.
func (t Told) losing() float64 {
	best := math.NaN()
	for _, d := range append(slices.Clone(t.Died), t.Drawn) {
		ls := t.between(d+3, min(d+25, end(t.SteamOut)))
		for i := 1; i < len(ls); i++ {
			if r := float64(ls[i-1].T-ls[i].T) / (ls[i].Minute - ls[i-1].Minute) / 60; r > 0 {
				mean := float64(ls[i].T+ls[i-1].T) / 2
				best = maxOf(best, r*typicalCapacity(t.Water-0.6, ls[i].T)/(mean-25))
			}
		}
	}
	return best
}

// lagging is how long the fire's heat goes on after the draught is closed, s: the run-on over the rise.
func (t Told) lagging() float64 {
	for _, m := range t.Tamed {
		before := append([]Seen{{t.VentEnd, t.boil()}}, t.between(t.VentEnd, m)...)
		after := t.between(m, m+12)
		if len(before) < 2 || len(after) == 0 {
			continue
		}
		a, b := before[len(before)-2], before[len(before)-1]
		rise := float64(b.T-a.T) / (b.Minute - a.Minute)
		if rise < 0.3 {
			continue
		}
		at, peak := float64(b.T)+rise*(m-b.Minute), math.Inf(-1)
		for _, l := range after {
			peak = max(peak, float64(l.T))
		}
		if lag := (peak - at) / rise * 60; lag > 0 && lag < 900 {
			return lag
		}
	}
	return math.NaN()
}

func end(minute float64) float64 {
	if math.IsNaN(minute) {
		return math.Inf(1)
	}
	return minute
}

func maxOf(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}
