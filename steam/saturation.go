package steam

import "math"

// The saturation line, IAPWS R7-97(2012), region 4, equations 30 and 31 with
// the coefficients of table 34. The formulation holds from 0 to 374 degC; this
// package answers from 1 to 180, where a steam pot can be.
const (
	lowestCelsius, highestCelsius = 1, 180

	n1  = 0.11670521452767e4
	n2  = -0.72421316703206e6
	n3  = -0.17073846940092e2
	n4  = 0.12020824702470e5
	n5  = -0.32325550322333e7
	n6  = 0.14915108613530e2
	n7  = -0.48232657361591e4
	n8  = 0.40511340542057e6
	n9  = -0.23855557567849
	n10 = 0.65017534844798e3
)

// lowestAbsolute and highestAbsolute bound Tsat so that its result stays in range.
var (
	lowestAbsolute  = psat(lowestCelsius)
	highestAbsolute = psat(highestCelsius)
)

// Psat is the pressure at which water boils at t, 1 to 180 degC.
//
// IAPWS R7-97 eq. 30; check: 500 K -> 2.63889776 MPa (table 35), which the tests
// evaluate through the same formula outside the public range.
func Psat(t Celsius) (Absolute, error) {
	if err := within("temperature", float64(t), lowestCelsius, highestCelsius, "degC"); err != nil {
		return 0, err
	}
	return psat(t), nil
}

// Tsat is the temperature at which water boils under p, 0.6571 to 1002.6 kPa.
//
// IAPWS R7-97 eq. 31; check: 0.1 MPa -> 372.755919 K (table 36).
func Tsat(p Absolute) (Celsius, error) {
	if err := within("pressure", float64(p), float64(lowestAbsolute), float64(highestAbsolute), "Pa"); err != nil {
		return 0, err
	}
	return tsat(p), nil
}

func psat(t Celsius) Absolute {
	k := t.Kelvin()
	th := k + n9/(k-n10)
	a := th*th + n1*th + n2
	b := n3*th*th + n4*th + n5
	c := n6*th*th + n7*th + n8
	x := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	x *= x
	return Absolute(x * x * 1e6)
}

func tsat(p Absolute) Celsius {
	b := math.Sqrt(math.Sqrt(float64(p) / 1e6))
	e := b*b + n3*b + n6
	f := n1*b*b + n4*b + n7
	g := n2*b*b + n5*b + n8
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	s := n10 + d
	return Celsius(0.5*(s-math.Sqrt(s*s-4*(n9+n10*d))) - 273.15)
}
