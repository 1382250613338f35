package steam

// Phase is a kilogram of water in one phase.
type Phase struct {
	V  float64 // specific volume, m3/kg
	H  float64 // specific enthalpy, J/kg; zero for the liquid at the triple point
	S  float64 // specific entropy, J/(kg K)
	Cp float64 // specific heat at constant pressure, J/(kg K)
}

// U is the specific internal energy under pressure p, J/kg.
func (x Phase) U(p Absolute) float64 { return x.H - float64(p)*x.V }

// Saturated is water and its steam side by side at the boiling point.
type Saturated struct {
	T      Celsius
	P      Absolute
	Liquid Phase
	Vapour Phase
}

// Latent is the heat that turns a kilogram of the water into steam, J/kg.
// Check: 100 degC 2256.473 kJ/kg, 121.1 degC 2199.066 kJ/kg (computed with a reference library).
func (s Saturated) Latent() float64 { return s.Vapour.H - s.Liquid.H }

// Slope is the rise of the boiling pressure with temperature, Pa/K, by Clausius and Clapeyron.
func (s Saturated) Slope() float64 {
	return s.Latent() / (s.T.Kelvin() * (s.Vapour.V - s.Liquid.V))
}

// Saturation gives both phases at t, 1 to 180 degC.
//
// IAPWS R7-97(2012), regions 1 and 2 at the pressure of region 4. Check: 121.1 degC gives
// 0.862795 m3/kg for the steam and 508.462 kJ/kg for the water.
func Saturation(t Celsius) (Saturated, error) {
	if err := within("temperature", float64(t), lowestCelsius, highestCelsius, "degC"); err != nil {
		return Saturated{}, err
	}
	p := psat(t)
	mpa := float64(p) / 1e6
	return Saturated{T: t, P: p, Liquid: liquid(t.Kelvin(), mpa), Vapour: vapour(t.Kelvin(), mpa)}, nil
}
