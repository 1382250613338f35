package pot

import "math"

// How much steam an opening passes.

// Exponents of expansion of steam for Flux.
const (
	KWet        = 1.135 // initially dry saturated, in equilibrium (Zeuner; from memory)
	KMetastable = 1.3   // as if it stayed dry
)

// CriticalRatio is the ratio of outer to inner pressure below which the flow is choked.
// Check: 1.135 -> 0.57743, 1.3 -> 0.54573.
func CriticalRatio(k float64) float64 { return math.Pow(2/(k+1), k/(k-1)) }

// Flux is the mass flow through a square metre of opening, kg/(m2 s), from inner pressure p to outer
// pressure out (Pa) of a gas of density rho (kg/m3) and exponent k: the isentropic formula, choked
// below the critical ratio, subcritical above. At sea level most of letting the steam out is
// subcritical, where Napier's rule is wrong. Zero where p does not exceed out.
//
// Check: k 1.135, 205.685 kPa, dry saturated: 310.3 kg/(m2 s) choked.
func Flux(p, out, rho, k float64) float64 {
	if !(p > out) || rho <= 0 {
		return 0
	}
	r := max(out/p, CriticalRatio(k))
	return math.Sqrt(2 * k / (k - 1) * p * rho * (math.Pow(r, 2/k) - math.Pow(r, (k+1)/k)))
}

// Napier is the choked mass flow of saturated steam through a square metre of opening at p pascal, by
// Napier's rule in its SI form A[mm2] = 190.5 W[kg/h] / P[kPa] (an engineering handbook page; valid
// below about 10 MPa).
func Napier(p float64) float64 { return p / 1000 / 190.5 / 3600 * 1e6 }

// ReliefArea is the area in m2 of a safety valve that passes w kg/s of steam at p pascal absolute with
// discharge coefficient kd; ksh corrects for superheat (1: none). Above 10339 kPa the high-pressure factor
// of the API 520 form counts (limit from memory).
//
// Check: the example of API 520, 69615 kg/h at 12236 kPa, 592.5 K, kd 0.975, ksh 0.9959: 1103.5 mm2.
func ReliefArea(w, p, kd, ksh float64) float64 {
	kpa := p / 1000
	kn := 1.0
	if kpa > 10339 {
		kn = (0.02764*kpa - 1000) / (0.03324*kpa - 1061)
	}
	return 190.5 * w * 3600 / (kpa * kd * kn * ksh) / 1e6
}

// softly passes a flow through an opening with a gentle start: below `soft` pascal it rises in
// proportion to the difference (entrance losses; it also keeps the sums stable). Both directions.
const soft = 500

func softly(in, out, rhoIn, rhoOut, k float64) (massFlux float64) {
	d, sign, p, o, rho := in-out, 1.0, in, out, rhoIn
	if d < 0 {
		d, sign, p, o, rho = -d, -1, out, in, rhoOut
	}
	if d >= soft {
		return sign * quick(p, o, rho, k)
	}
	return sign * quick(o+soft, o, rho, k) * d / soft
}

// quick is Flux with the powers of the one usual exponent done by logarithm once.
func quick(p, out, rho, k float64) float64 {
	if r := out / p; r > CriticalWet && k == KWet {
		l := math.Log(r)
		return math.Sqrt(2 * k / (k - 1) * p * rho * (math.Exp(2/k*l) - math.Exp((k+1)/k*l)))
	}
	if k == KWet {
		return chokedWet * math.Sqrt(p*rho)
	}
	return Flux(p, out, rho, k)
}

// CriticalWet is the critical ratio at KWet.
var (
	CriticalWet = CriticalRatio(KWet)
	chokedWet   = Flux(1, 0, 1, KWet)
)
