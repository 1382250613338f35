package pot

import (
	"math"

	"mvuke/steam"
)

// Range is the least and the most that a figure can be.
type Range struct{ Low, High float64 }

// Fuel is what burns. Values are net calorific values as fired.
type Fuel struct {
	Value      Range // J/kg
	Efficiency Range // share of the heat that reaches the pot
	Catch      float64
	Burn       float64 // s in which two thirds of a glowing bed burn down with the draught open; 0: a burner
}

// The fuels. Efficiencies are those of an open fire or a shielded stove (ISO/TR 19867-3:2018 tiers and water-boiling
// tests, the latter from memory); a clinic's own kilograms a cycle are better. Catching and burning times
// are estimates, no source.
var (
	Wood     = Fuel{Value: Range{13e6, 16.5e6}, Efficiency: Range{0.10, 0.20}, Catch: 150, Burn: 1500}   // about 10 to 25 % moisture, wet basis
	Charcoal = Fuel{Value: Range{29.5e6, 30.8e6}, Efficiency: Range{0.15, 0.30}, Catch: 400, Burn: 3600} // FAO conversion factors; IPCC 2006 from memory
	Kerosene = Fuel{Value: Range{43.8e6, 43.8e6}, Efficiency: Range{0.30, 0.50}}                         // IPCC 2006, from memory
	Gas      = Fuel{Value: Range{47.3e6, 47.3e6}, Efficiency: Range{0.40, 0.60}}                         // IPCC 2006, from memory
	WetWood  = Fuel{Value: Range{8.2e6, 10.4e6}, Efficiency: Range{0.12, 0.20}, Catch: 600, Burn: 2400}  // 40 to 50 % moisture
	Fuels    = map[string]Fuel{"wood": Wood, "charcoal": Charcoal, "kerosene": Kerosene, "gas": Gas}
)

// evaporation is the heat that a kilogram of moisture takes out of burning wood, J/kg (a wood-fuel page).
const evaporation = 2.44e6

// NetValue is the net calorific value, J/kg, of wood whose oven-dry value is dry (J/kg), with the share
// `moisture` (0 to 0.7) of its mass as fired being water: the wet basis. Check: 19 MJ/kg with 0.20 gives 14.71.
func NetValue(dry, moisture float64) (float64, error) {
	if !(moisture >= 0 && moisture <= 0.7) {
		return 0, &BadBody{"moisture", moisture, 0, 0.7}
	}
	return dry*(1-moisture) - evaporation*moisture, nil
}

// WetBasis turns moisture counted against dry mass into a share of the whole.
func WetBasis(dryBasis float64) float64 { return dryBasis / (1 + dryBasis) }

// Needed is the mass of fuel, kg, that brings `energy` joules into the pot. Both ranges count at
// their worst and best. Check: 6.2 MJ by wood, 1.9 to 4.8 kg.
func (f Fuel) Needed(energy float64) Range {
	return Range{energy / (f.Efficiency.High * f.Value.High), energy / (f.Efficiency.Low * f.Value.Low)}
}

// Warmup is the time in seconds in which `useful` watts bring heat capacity c (J/K) from one temperature to
// another, losing `loss` W/K to the air around. An error where the fire can never reach it.
func Warmup(useful, loss float64, around steam.Celsius, c float64, from, to steam.Celsius) (float64, error) {
	if to <= from {
		return 0, nil
	}
	end := useful - loss*float64(to-around)
	if !(end > 0) || !(c > 0) {
		return 0, &BadBody{"useful power", useful, loss * float64(to-around), math.Inf(1)}
	}
	if loss == 0 {
		return c * float64(to-from) / useful, nil
	}
	return c / loss * math.Log((useful-loss*float64(from-around))/end), nil
}

// Useful is the heat that reaches the pot, W, told by a rise of `rise` K/s at t.
func Useful(rise, loss float64, around, t steam.Celsius, c float64) float64 {
	return c*rise + loss*float64(t-around)
}

// Overshoot is how far the temperature runs on, K, when the fire is drawn while it rises: what is in embers
// and hot base still comes, for `lag` seconds' worth. Check: 2.5 kW, 60 s, 26.84 kJ/K: 4.09 K.
func Overshoot(useful, loss float64, around, t steam.Celsius, lag, c float64) float64 {
	return (useful - loss*float64(t-around)) * lag / c
}
