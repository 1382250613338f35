package pot

import (
	"fmt"
	"math"

	"mvuke/steam"
)

// Body is a pot with what is in it, as far as heat and steam ask.
type Body struct {
	Volume   float64 // inside the shut vessel, m3
	Metal    float64 // heat capacity of the metal that keeps the steam's temperature, J/K
	Load     float64 // heat capacity of what in the load follows at once, J/K
	Packs    Packs   // what lags behind
	Loss     float64 // W/K to the air around
	Around   steam.Celsius
	Ambient  steam.Absolute
	Valve    float64    // m2, air valve fully open: area x coefficient of discharge
	Relief   float64    // m2, safety valve fully lifted, likewise
	ReliefAt steam.Over // overpressure at which it begins to lift; 0: there is none
	K        float64    // exponent of expansion
	FireLag  float64    // s, until heat of the fire has reached the pot (and goes on after it is drawn)
}

// Packs lag behind the chamber, and keep air longer.
type Packs struct {
	Heat    float64 // J/K
	Lag     float64 // s
	AirOpen float64 // s in which two thirds of a pack's air leaves while steam streams past
	AirShut float64 // s, while the valve is shut
}

// Specific heats, J/(kg K), from handbook tables.
const (
	HeatSteel     = 500  // austenitic stainless (a material-properties table)
	HeatAluminium = 897  // Mechanical Engineer's Data Handbook, 3.4.4
	HeatCotton    = 1340 // an engineering table of solids
	HeatGlass     = 840  // the same
)

// Reference is the pot that the check values are for: 40 litres, 13 kg of aluminium, 8 kg of steel and
// 2 kg of cotton, at sea level. Sizes and loss are estimates, not measurements.
func Reference() Body {
	return Body{
		Volume: 0.0395, Metal: 13 * HeatAluminium, Loss: 7, Around: 25, Ambient: 101325,
		Packs: Packs{Heat: 8*HeatSteel + 2*HeatCotton, Lag: 120, AirOpen: 90, AirShut: 1800},
		Valve: 20e-6, Relief: 12e-6, ReliefAt: 160e3, K: KWet, FireLag: 60,
	}
}

// BadBody names the parameter that cannot be.
type BadBody struct {
	Name      string
	Value     float64
	Low, High float64
}

func (e *BadBody) Error() string {
	return fmt.Sprintf("pot: %s %g is outside %g to %g", e.Name, e.Value, e.Low, e.High)
}

// Check refuses a body that no pot has.
func (b Body) Check() error {
	for _, c := range []struct {
		name      string
		v, lo, hi float64
	}{
		{"volume", b.Volume, 0.005, 0.2}, {"heat of the metal", b.Metal, 0, 1e5}, {"heat of the load", b.Load, 0, 1e5},
		{"heat of the packs", b.Packs.Heat, 0, 1e5}, {"loss", b.Loss, 0, 100}, {"air around", float64(b.Around), -20, 60},
		{"ambient pressure", float64(b.Ambient), 4e4, 1.1e5}, {"air valve", b.Valve, 0, 60e-6}, {"safety valve", b.Relief, 0, 60e-6},
		{"safety valve's setting", float64(b.ReliefAt), 0, 6e5}, {"exponent", b.K, 1.05, 1.4}, {"lag of the fire", b.FireLag, 5, 1200},
		{"lag of the packs", b.Packs.Lag, 0, 7200},
	} {
		if !(c.v >= c.lo && c.v <= c.hi) || math.IsNaN(c.v) {
			return &BadBody{c.name, c.v, c.lo, c.hi}
		}
	}
	return nil
}
