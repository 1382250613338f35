package lethality

import (
	"math"
	"slices"

	"mvuke/steam"
)

// Reading is what one look at the needle guarantees: the least that the chamber can have
// been then, and, if the person said so, the least since the look before.
type Reading struct {
	Minute  float64
	Low     steam.Celsius
	Claimed bool
	Claim   steam.Celsius // least since the previous reading, where Claimed
}

// Limits say how fast the vessel can change and how far a claim reaches back.
type Limits struct {
	Cool, Heat float64 // K/min; the fastest fall with the valve shut, the fastest rise
	Reach      float64 // minutes that a claim covers at most
	Clock      float64 // minutes that each written time may be off (0.5 for a paper slip)
}

// DefaultLimits are estimates for a 40-litre pot (computed from its heat capacity and
// loss, no published measurement) until a pot's own tests replace them.
var DefaultLimits = Limits{Cool: 1.5, Heat: 4, Reach: 10}

// Credit integrates a rate along a straight line of temperature from a to b in d minutes.
type Credit func(a, b steam.Celsius, d float64) float64

// GuardedCredit is the credit used for decisions.
func GuardedCredit(a, b steam.Celsius, d float64) float64 { return guardedLine(a, b, d) }

// PlainCredit is the usual rate at a reference temperature, without a floor.
func PlainCredit(ref steam.Celsius) Credit {
	return func(a, b steam.Celsius, d float64) float64 { return straight(a, b, d, math.Ln10/zPlain, ref) }
}

// Guaranteed is the least that the readings can be worth. Between two looks the
// chamber cannot have been below a line falling from the first at the cooling limit,
// nor below a line rising to the second at the heating limit, nor below the claim.
// Readings that break the limits themselves (valve opened, fire out) are credited
// with their lower end only. Readings must be in rising order of time.
func Guaranteed(rs []Reading, lim Limits, credit Credit) float64 {
	var sum, swing, last float64
	for i := 1; i < len(rs); i++ {
		for _, p := range pieces(rs[i-1], rs[i], lim) {
			sum += credit(p.a, p.b, p.d)
			a, b := credit(p.a, p.a, 1), credit(p.b, p.b, 1)
			swing += math.Abs(a-last) + math.Abs(b-a)
			last = b
		}
	}
	return max(0, sum-lim.Clock*(swing+last))
}

type piece struct {
	a, b steam.Celsius
	d    float64
}

// pieces cuts the lower envelope between two readings into straight lines.
func pieces(r, s Reading, lim Limits) []piece {
	d := s.Minute - r.Minute
	if d <= 0 {
		return nil
	}
	fall, rise := float64(r.Low-s.Low)/d, float64(s.Low-r.Low)/d
	if fall > lim.Cool || rise > lim.Heat {
		low := min(r.Low, s.Low)
		if s.Claimed { // the person saw less in between, or nothing better
			low = min(low, s.Claim)
		}
		return []piece{{low, low, d}}
	}
	covered := d - min(d, lim.Reach) // from here on the claim holds
	env := func(t float64, claim bool) steam.Celsius {
		e := max(r.Low-steam.Celsius(lim.Cool*t), s.Low-steam.Celsius(lim.Heat*(d-t)))
		if claim {
			e = max(e, s.Claim)
		}
		return e
	}
	cuts := []float64{0, d, (float64(r.Low-s.Low) + lim.Heat*d) / (lim.Cool + lim.Heat)}
	if s.Claimed {
		cuts = append(cuts, covered, float64(r.Low-s.Claim)/lim.Cool, d-float64(s.Low-s.Claim)/lim.Heat)
	}
	slices.Sort(cuts)
	var out []piece
	for i := 1; i < len(cuts); i++ {
		t, u := max(0, cuts[i-1]), min(d, cuts[i])
		if u-t <= 0 {
			continue
		}
		claim := s.Claimed && (t+u)/2 > covered
		out = append(out, piece{env(t, claim), env(u, claim), u - t})
	}
	return out
}

// PerMinute is the guaranteed credit for each minute of a hold that is read every
// `every` minutes with the needle at the mark and sworn not to have gone below the
// restart line in between: what a plan can promise beforehand.
func PerMinute(every float64, lim Limits) func(atMark, atRestart steam.Celsius) float64 {
	return func(atMark, atRestart steam.Celsius) float64 {
		rs := []Reading{{Minute: 0, Low: atMark}, {Minute: every, Low: atMark, Claimed: true, Claim: atRestart}}
		return Guaranteed(rs, lim, GuardedCredit) / every
	}
}
