package steam

import "math"

// IAPWS SR1-86(1992), the auxiliary equations for the saturation line: a second, independent
// formulation, used by the tests only (equations and coefficients read in public code that cites the release).

const (
	sr1Critical = 647.096  // K
	sr1Pressure = 22.064e6 // Pa
	sr1Density  = 322.0    // kg/m3
)

type sr1 struct{ p, slope, rhoLiquid, rhoVapour, alpha, hLiquid, hVapour float64 }

func sr1At(k float64) sr1 {
	th := k / sr1Critical
	tau := 1 - th
	sum := func(n, e [6]float64, x float64) (s float64) {
		for i := range n {
			s += n[i] * math.Pow(x, e[i])
		}
		return s
	}
	a, ae := [6]float64{-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502}, [6]float64{1, 1.5, 3, 3.5, 4, 7.5}
	b, be := [6]float64{1.99274064, 1.09965342, -0.510839303, -1.75493479, -45.5170352, -6.74694450e5},
		[6]float64{1. / 3, 2. / 3, 5. / 3, 16. / 3, 43. / 3, 110. / 3}
	c, ce := [6]float64{-2.03150240, -2.68302940, -5.38626492, -17.2991605, -44.7586581, -63.9201063},
		[6]float64{2. / 6, 4. / 6, 8. / 6, 18. / 6, 37. / 6, 71. / 6}
	ln := sum(a, ae, tau) / th
	var s sr1
	s.p = sr1Pressure * math.Exp(ln)
	var d float64 // d(ln p * T)/dtau
	for i := range a {
		d += a[i] * ae[i] * math.Pow(tau, ae[i]-1)
	}
	s.slope = -s.p / k * (ln + d)
	s.rhoLiquid = sr1Density * (1 + sum(b, be, tau))
	s.rhoVapour = sr1Density * math.Exp(sum(c, ce, tau))
	s.alpha = 1000 * (-1135.905627715 - 5.65134998e-8*math.Pow(th, -19) + 2690.66631*th + 127.287297*math.Pow(th, 4.5) -
		135.003439*math.Pow(th, 5) + 0.981825814*math.Pow(th, 54.5))
	s.hLiquid = s.alpha + k/s.rhoLiquid*s.slope
	s.hVapour = s.alpha + k/s.rhoVapour*s.slope
	return s
}
