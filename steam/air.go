package steam

import "math"

// Air that was not let out holds up part of the pressure, so the steam is cooler than the gauge
// says (Dalton). A gauge alone cannot see it; a thermometer beside it can, as far as both are good.

// AirShare is the mole fraction of air told by a thermometer beside a gauge:
// 1 - psat(t)/p (Dalton). Negative means that the two instruments disagree.
func AirShare(t Celsius, p Absolute) (float64, error) {
	s, err := Psat(t)
	if err != nil {
		return 0, err
	}
	return 1 - float64(s)/float64(p), nil
}

// AirOfOriginal is the share of the first air still inside, by the classical
// cold-air model: air pressure over the pressure of one atmosphere. Check: half the
// air at 15 psi leaves 112 degC (a classical table, from memory).
func AirOfOriginal(t Celsius, p Absolute) (float64, error) {
	s, err := Psat(t)
	if err != nil {
		return 0, err
	}
	return float64(p-s) / seaLevel, nil
}

// AirSaid is what two instruments say of the air together.
type AirSaid string

// What they can say. "Little air" is never said of a pack: both stand in the chamber.
const (
	AirSuspected AirSaid = "air-suspected" // even with both at their worst there is more than AirTolerated
	AirUnsure    AirSaid = "cannot-tell"   // within their errors it may be or may not
	AirLittle    AirSaid = "little-air"    // even at their worst there is not more than AirTolerated
)

// AirTolerated is the share of air below which two instruments are not made to quarrel: worth
// 0.64 K at 121 degC.
const AirTolerated = 0.02

// AirEstimate is a share of air (0 to 1, by volume) with its least and its most.
type AirEstimate struct {
	Low, Nominal, High float64
	Said               AirSaid
}

// EstimateAir compares a thermometer in the chamber, good to off kelvin, with the gauge, taking both at
// their worst. With ordinary instruments (class 2.5 of 4 bar, 0.5 K) only more than about
// 0.07 can be shown, which is 2.3 K.
func (g Gauge) EstimateAir(shown float64, t Celsius, off float64, air Ambient) (AirEstimate, error) {
	return EstimateAir(g.True(shown), g.Error()+g.ReadingError(), t, off, air)
}

// EstimateAir is the same from a true overpressure and its whole error, as a frozen plan has them.
func EstimateAir(p, errP Over, t Celsius, off float64, air Ambient) (AirEstimate, error) {
	if err := within("thermometer error", off, 0, 10, "K"); err != nil {
		return AirEstimate{}, err
	}
	low, err := AirShare(t+Celsius(off), Absolute(p-errP)+air.Low)
	if err != nil {
		return AirEstimate{}, err
	}
	nominal, err := AirShare(t, Absolute(p)+air.Nominal)
	if err != nil {
		return AirEstimate{}, err
	}
	high, err := AirShare(t-Celsius(off), Absolute(p+errP)+air.High)
	if err != nil {
		return AirEstimate{}, err
	}
	e := AirEstimate{Low: low, Nominal: nominal, High: high, Said: AirUnsure}
	switch {
	case low > AirTolerated:
		e.Said = AirSuspected
	case high <= AirTolerated:
		e.Said = AirLittle
	}
	return e, nil
}

// WithAir is the temperature of steam under p of which the share y (0 to 0.99) is air.
// Check: 205.685 kPa with 0.10 of air, 117.78 degC.
func WithAir(p Absolute, y float64) (Celsius, error) {
	if err := within("share of air", y, 0, 0.99, "(share)"); err != nil {
		return 0, err
	}
	return Tsat(p * Absolute(1-y))
}

// Undischarged is the temperature in a chamber at pressure p of which the fraction `left` (0 to 1) of the
// first air was never let out. warmed false is the classical cold-air model (the printed table
// that it reproduces within 1.2 K is from memory); warmed true lets that air warm up with the steam from
// `from`, as it does in a closed vessel, and gives less. first is the pressure that the air had.
func Undischarged(p, first Absolute, left float64, from Celsius, warmed bool) (Celsius, error) {
	if err := within("fraction of the air left", left, 0, 1, "(share)"); err != nil {
		return 0, err
	}
	if !warmed {
		return Tsat(p - first*Absolute(left))
	}
	low, high := Celsius(lowestCelsius), Celsius(highestCelsius)
	of := func(t Celsius) Absolute { return psat(t) + warmedAir(first, left, from, t) }
	if err := within("pressure", float64(p), float64(of(low)), float64(of(high)), "Pa with that much air"); err != nil {
		return 0, err
	}
	for range 60 { // the pressure rises with temperature: halve the interval
		if mid := (low + high) / 2; of(mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}

func warmedAir(first Absolute, left float64, from, to Celsius) Absolute {
	return first * Absolute(left*to.Kelvin()/from.Kelvin())
}

// NeverVented is the overpressure at t of a vessel shut with all its air at `from` under `first`: the sign
// that the needle comes up far too soon. Check: at sea level, shut at 20 degC, 68.2 kPa at 80 degC, where
// pure steam has none.
func NeverVented(t, from Celsius, first Absolute) (Over, error) {
	p, err := Psat(t)
	if err != nil {
		return 0, err
	}
	return Over(p + warmedAir(first, 1, from, t) - first), nil
}

// PackSaid is what a maximum-registering thermometer from inside a pack says.
type PackSaid string

// What it can say: it has seen one moment, never minutes.
const (
	PackFailed  PackSaid = "pack-failed"  // below the set temperature by more than its own error, whatever the gauge says
	PackReached PackSaid = "pack-reached" // the temperature was there at some moment; says nothing about minutes
)

// FromPack judges the highest temperature t seen inside a pack by a thermometer good to off kelvin.
func FromPack(t, set Celsius, off float64) (PackSaid, error) {
	if err := within("thermometer", float64(t), lowestCelsius, highestCelsius, "degC"); err != nil {
		return "", err
	}
	if err := within("thermometer error", off, 0, 10, "K"); err != nil {
		return "", err
	}
	if t < set-Celsius(off) || math.IsNaN(float64(set)) {
		return PackFailed, nil
	}
	return PackReached, nil
}
