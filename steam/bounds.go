package steam

// Bounds is a temperature with the least and the most that it can be, all limits
// taken at their worst at once (they are limits, not spreads).
type Bounds struct{ Low, Nominal, High Celsius }

// AirLeft is the share of air still counted after a vent by the rule: one part in a
// hundred, worth 0.32 K.
const AirLeft = 0.01

// modelError is the relative error allowed for the saturation formula itself; IF97
// and IAPWS-95 differ by at most 1.1e-4 up to 140 degC.
const modelError = 1e-4

// Temperature bounds the chamber's temperature from one figure on the dial,
// provided that the vent was done by the rule; without it there is no lower
// bound, and nobody may ask. Every input moves the bounds one way only, so the
// interval is exact.
func (g Gauge) Temperature(shown float64, air Ambient) (Bounds, error) {
	return g.bounds(shown, air, AirLeft)
}

func (g Gauge) bounds(shown float64, air Ambient, left float64) (Bounds, error) {
	return g.within(shown, air, g.Error()+g.ReadingError(), left)
}

func (g Gauge) within(shown float64, air Ambient, off Over, left float64) (Bounds, error) {
	p := g.True(shown)
	nominal, err := Tsat(Absolute(p) + air.Nominal)
	if err != nil {
		return Bounds{}, err
	}
	low, err := Tsat((Absolute(p-off) + air.Low) * (1 - modelError) * Absolute(1-left))
	if err != nil {
		return Bounds{}, err
	}
	high, err := Tsat((Absolute(p+off) + air.High) * (1 + modelError))
	if err != nil {
		return Bounds{}, err
	}
	return Bounds{Low: low, Nominal: nominal, High: high}, nil
}

// Need is the overpressure at which saturated steam has temperature t here:
// psat(t) less the ambient pressure. Check: 121.1 degC at 2000 m, 126.19 kPa.
func Need(t Celsius, air Ambient) (Over, error) {
	p, err := Psat(t)
	if err != nil {
		return 0, err
	}
	return Over(p - air.Nominal), nil
}

// TemperatureWithin is Temperature with the whole error of a reading given by the caller,
// as a frozen plan has it.
func (g Gauge) TemperatureWithin(shown float64, air Ambient, off Over) (Bounds, error) {
	return g.within(shown, air, off, AirLeft)
}
