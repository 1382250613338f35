package lethality

import (
	"math"

	"mvuke/steam"
)

// Point is a temperature at a minute.
type Point struct {
	Minute float64
	T      steam.Celsius
}

// Sum integrates the plain rate over straight segments, exactly, crediting
// nothing where the temperature is below floor. (The trapezoid rule on the rate
// overstates every rising or falling segment, since the rate is convex.)
// Points must be in rising order of time; equal minutes are a jump.
func Sum(points []Point, ref, floor steam.Celsius) float64 {
	var sum float64
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		sum += segment(a.T, b.T, b.Minute-a.Minute, ref, floor)
	}
	return sum
}

// segment is the exact integral of the plain rate along a straight line from a to b
// lasting d minutes, above floor only.
func segment(a, b steam.Celsius, d float64, ref, floor steam.Celsius) float64 {
	if d <= 0 || (a < floor && b < floor) {
		return 0
	}
	if a < floor {
		a, d = floor, d*float64((b-floor)/(b-a))
	} else if b < floor {
		b, d = floor, d*float64((a-floor)/(a-b))
	}
	return straight(a, b, d, math.Ln10/zPlain, ref)
}

// straight integrates exp(k (t - ref)) along a straight line. For a nearly level line the
// difference quotient loses its digits, so the mean rate is used; the error is
// below 1e-9 relative there.
func straight(a, b steam.Celsius, d, k float64, ref steam.Celsius) float64 {
	if math.Abs(float64(b-a)) < 1e-4 {
		return d * math.Exp(k*float64((a+b)/2-ref))
	}
	return d * (math.Exp(k*float64(b-ref)) - math.Exp(k*float64(a-ref))) / (k * float64(b-a))
}

// guardedLine integrates the guarded rate along a straight line, exactly: between 115 degC
// and the reference the form with z = 6 K is the least of the three (a test checks
// it), above the reference the rate is 1.
func guardedLine(a, b steam.Celsius, d float64) float64 {
	if a > b {
		a, b = b, a
	}
	if d <= 0 || b < steam.LeastCredited {
		return 0
	}
	if a < steam.LeastCredited {
		d *= float64((b - steam.LeastCredited) / (b - a))
		a = steam.LeastCredited
	}
	if a >= ReferenceF0 {
		return d
	}
	var above float64
	if b > ReferenceF0 {
		above = d * float64((b-ReferenceF0)/(b-a))
		d, b = d-above, ReferenceF0
	}
	return above + straight(a, b, d, math.Ln10/zLeast, ReferenceF0)
}
