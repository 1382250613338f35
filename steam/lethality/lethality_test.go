package lethality

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"mvuke/steam"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol || math.IsNaN(got) {
		t.Errorf("%s: got %.6f, want %.6f within %g", what, got, want, tol)
	}
}

func TestSharpIsTheLeastBetweenFloorAndReference(t *testing.T) {
	for c := steam.LeastCredited; c < ReferenceF0; c += 0.01 {
		if s := Sharp(c, ReferenceF0); s > Arrhenius(c, ReferenceF0) || s > Plain(c, ReferenceF0) {
			t.Fatalf("at %v the sharp form is not the least", c)
		}
	}
}

func TestArrheniusNeverAbovePlain(t *testing.T) {
	for c := steam.Celsius(100); c < 140; c += 0.05 {
		if Arrhenius(c, ReferenceF0) > Plain(c, ReferenceF0)+1e-12 {
			t.Fatalf("at %v", c)
		}
	}
}

// A pack that says 12.0 must not have been given 12.0 by a wrong integral: the
// exact form is compared with a fine sum.
func TestIntegralsAgreeWithFineSum(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := steam.Celsius(rapid.Float64Range(105, 130).Draw(r, "a"))
		b := steam.Celsius(rapid.Float64Range(105, 130).Draw(r, "b"))
		var plain, guarded float64
		const n = 4000
		for i := range n {
			c := a + (b-a)*steam.Celsius((float64(i)+0.5)/n)
			guarded += Guarded(c) * 5 / n
			if c >= steam.LeastCredited {
				plain += Plain(c, Reference121) * 5 / n
			}
		}
		if g := guardedLine(a, b, 5); math.Abs(g-guarded) > 2e-3 {
			r.Fatalf("guarded %v fine %v", g, guarded)
		}
		if s := segment(a, b, 5, Reference121, steam.LeastCredited); math.Abs(s-plain) > 2e-3*max(1, plain) {
			r.Fatalf("plain %v fine %v", s, plain)
		}
	})
}

func draw(r *rapid.T) []Reading {
	n := rapid.IntRange(2, 12).Draw(r, "n")
	var out []Reading
	minute, c := 0.0, rapid.Float64Range(114, 124).Draw(r, "start")
	for range n {
		rd := Reading{Minute: minute, Low: steam.Celsius(c)}
		if rapid.Bool().Draw(r, "claimed") {
			rd.Claimed, rd.Claim = true, steam.Celsius(c-rapid.Float64Range(0, 3).Draw(r, "dip"))
		}
		out = append(out, rd)
		d := rapid.Float64Range(0.5, 15).Draw(r, "gap")
		minute += d
		c += rapid.Float64Range(-1.4*d, min(3.9*d, 5)).Draw(r, "move")
		c = min(max(c, 110), 126)
	}
	return out
}

func interpolated(rs []Reading) float64 {
	var s float64
	for i := 1; i < len(rs); i++ {
		s += guardedLine(rs[i-1].Low, rs[i].Low, rs[i].Minute-rs[i-1].Minute)
	}
	return s
}

func TestGuaranteedNeverAboveInterpolatedWithoutClaims(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rs := draw(r)
		for i := range rs {
			rs[i].Claimed = false
		}
		if g, p := Guaranteed(rs, DefaultLimits, GuardedCredit), interpolated(rs); g > p+1e-9 {
			r.Fatalf("guaranteed %v above interpolated %v", g, p)
		}
	})
}

func TestWideningAnUncertaintyNeverRaises(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rs := draw(r)
		before := Guaranteed(rs, DefaultLimits, GuardedCredit)
		wide := DefaultLimits
		wide.Cool += rapid.Float64Range(0, 3).Draw(r, "cool")
		wide.Heat += rapid.Float64Range(0, 3).Draw(r, "heat")
		wide.Reach -= rapid.Float64Range(0, 9).Draw(r, "reach")
		wide.Clock += rapid.Float64Range(0, 1).Draw(r, "clock")
		lower := append([]Reading(nil), rs...)
		d := steam.Celsius(rapid.Float64Range(0, 2).Draw(r, "lower"))
		for i := range lower {
			lower[i].Low -= d
			lower[i].Claim -= d
		}
		if g := Guaranteed(rs, wide, GuardedCredit); g > before+1e-9 {
			r.Fatalf("wider limits raised %v to %v", before, g)
		}
		if g := Guaranteed(lower, DefaultLimits, GuardedCredit); g > before+1e-9 {
			r.Fatalf("lower readings raised %v to %v", before, g)
		}
	})
}

func TestClaimHelpsOnlyAsFarAsItReaches(t *testing.T) {
	at := func(reach float64) float64 {
		lim := DefaultLimits
		lim.Reach = reach
		return Guaranteed([]Reading{{Minute: 0, Low: 121}, {Minute: 30, Low: 121, Claimed: true, Claim: 121}}, lim, GuardedCredit)
	}
	near(t, "30 minutes sworn whole", at(30), 30*Guarded(121), 1e-6)
	if at(10) >= at(30)*0.6 {
		t.Errorf("a claim of 10 minutes credited %v of %v", at(10), at(30))
	}
}
