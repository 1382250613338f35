package pot

import (
	"math"

	"mvuke/steam"
)

// SteamRate is the steam that a fire of `useful` watts makes in the open pot boiling at t, kg/s.
// Check: 2.5 kW at 100 degC, 7 W/K to 25 degC: 0.88 g/s.
func SteamRate(useful, loss float64, around, t steam.Celsius) (float64, error) {
	s, err := steam.Saturation(t)
	if err != nil {
		return 0, err
	}
	return max(0, useful-loss*float64(t-around)) / s.Latent(), nil
}

// Purge is the time in seconds in which steam at `rate` kg/s thins the air of a free space (m3) boiling at t
// down to the share `left`: well mixed, so the free space only; packs need longer. A weak fire makes a short vent worthless.
// Check: 37.5 l at sea level with 0.88 g/s: 26 s for two thirds, 2.0 min for 99 %.
func Purge(rate, free float64, t steam.Celsius, left float64) (float64, error) {
	s, err := steam.Saturation(t)
	if err != nil {
		return 0, err
	}
	if !(left > 0 && left < 1) {
		return 0, &BadBody{"share of air to leave", left, 0, 1}
	}
	if !(rate > 0) {
		return 0, &BadBody{"steam", rate, 1e-6, math.Inf(1)}
	}
	return free / s.Vapour.V / rate * math.Log(1/left), nil
}

// Use is what takes water out of a pot in a cycle. Durations in seconds, powers in watts at their high bound.
type Use struct {
	Boiling   float64       // s with the air valve open and steam coming
	Blowing   float64       // s with the safety valve blowing
	Exhausts  float64       // times the steam is let out
	Fire      float64       // W, useful, at its high bound
	Loss      float64       // W/K, at its low bound
	Around    steam.Celsius // air around
	Boil, Set steam.Celsius // boiling point here, temperature of the hold
	Leak      float64       // kg/s, measured; 0: none
	Hold      float64       // s that a leak lasts
	Condensed float64       // kg held by the load
	Free      float64       // m3
	Capacity  float64       // J/K with the steam let out
}

// WaterUsed is the most water, kg, that goes. Each part is at its high bound.
func WaterUsed(u Use) (float64, error) {
	open, err := SteamRate(u.Fire, u.Loss, u.Around, u.Boil)
	if err != nil {
		return 0, err
	}
	shut, err := SteamRate(u.Fire, u.Loss, u.Around, u.Set)
	if err != nil {
		return 0, err
	}
	hot, err := steam.Saturation(u.Set)
	if err != nil {
		return 0, err
	}
	boil, err := steam.Saturation(u.Boil)
	if err != nil {
		return 0, err
	}
	flash := u.Capacity * float64(u.Set-u.Boil) / boil.Latent()
	return u.Boiling*open + u.Blowing*shut + u.Exhausts*flash + u.Free/hot.Vapour.V + u.Leak*u.Hold + u.Condensed, nil
}

// WaterLeft is the guaranteed rest, kg; negative: it may be dry before the end.
func WaterLeft(start float64, u Use) (float64, error) {
	used, err := WaterUsed(u)
	return start - used, err
}

// Flash is the share of water that turns to steam when pressure falls from saturation at `from` to that at `to`
// all at once. Check: 121.1 to 100 degC 0.0396.
func Flash(from, to steam.Celsius) (float64, error) {
	a, b, err := both(from, to)
	return (a.Liquid.H - b.Liquid.H) / b.Latent(), err
}

// FlashSlowly is the same with the steam leaving as it forms. Check: 0.03928.
func FlashSlowly(from, to steam.Celsius) (float64, error) {
	if _, _, err := both(from, to); err != nil {
		return 0, err
	}
	const n = 64
	sum, d := 0.0, float64(from-to)/n
	for i := range n {
		s, err := steam.Saturation(to + steam.Celsius((float64(i)+0.5)*d))
		if err != nil {
			return 0, err
		}
		sum += s.Liquid.Cp / s.Latent() * d
	}
	return 1 - math.Exp(-sum), nil
}

func both(x, y steam.Celsius) (a, b steam.Saturated, err error) {
	if a, err = steam.Saturation(x); err == nil {
		b, err = steam.Saturation(y)
	}
	return a, b, err
}
