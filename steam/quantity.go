package steam

import (
	"fmt"
	"math"
)

// Absolute is a pressure above vacuum, in pascal.
type Absolute float64

// Over is a pressure above the surrounding air, in pascal: what a gauge shows.
type Over float64

// Celsius is a temperature in degrees Celsius (ITS-90).
type Celsius float64

// Metres is a height above mean sea level, in metres.
type Metres float64

// KPa gives the pressure in kilopascal.
func (p Absolute) KPa() float64 { return float64(p) / 1000 }

// KPa gives the pressure in kilopascal.
func (p Over) KPa() float64 { return float64(p) / 1000 }

// Kelvin gives the thermodynamic temperature.
func (t Celsius) Kelvin() float64 { return float64(t) + 273.15 }

// RangeError says which input lay outside what the formulas hold for.
type RangeError struct {
	Input            string  // name of the input, as a caller would write it
	Value, Low, High float64 // in Unit
	Unit             string
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s %g %s is outside %g to %g %s", e.Input, e.Value, e.Unit, e.Low, e.High, e.Unit)
}

// within returns a RangeError unless low <= v <= high; NaN is always outside.
func within(input string, v, low, high float64, unit string) error {
	if v >= low && v <= high && !math.IsNaN(v) {
		return nil
	}
	return &RangeError{Input: input, Value: v, Low: low, High: high, Unit: unit}
}
