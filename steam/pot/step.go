package pot

import "math"

// Hands is what a person has set: the air valve (0 shut to 1 open) and the heat that the fire gives, W.
type Hands struct {
	Valve float64
	Fire  float64
}

// rates gives the state's change each second. It follows from two balances, of energy and of water;
// nothing is lost between them.
func (b *Body) rates(y *vec, h Hands, table []piece) (d vec, s inside, flow flows) {
	s = b.inside(y, table)
	flow = b.flow(&s, y, h)
	d[iFire] = (h.Fire - y[iFire]) / b.FireLag
	d[iIn] = y[iFire]
	d[iLost] = b.Loss * (y[iT] - float64(b.Around))
	d[iW] = -flow.steam
	d[iN] = -flow.air
	d[iGone] = flow.steam
	d[iOut] = flow.heat
	b.packs(&d, y, &s, h)
	// U = water ul + vapour uv + ...: how the stored energy moves with T, with the water and with the air
	split := 1 / (1 - s.rho*s.vl)
	waterT := (-s.drho*b.Volume + s.water*(s.drho*s.vl+s.rho*s.dvl)) * split
	byT := s.water*s.dul + s.vapour*s.duv + (s.ul-s.uv)*waterT + y[iN]*airCv + b.Metal + b.Load
	byW := s.uv + (s.ul-s.uv)*split
	d[iT] = (d[iIn] - d[iLost] - d[iOut] - byW*d[iW] - airCv*s.k*d[iN] - b.Packs.Heat*d[iPack]) / byT
	d[iF0] = rate(y[iT])
	d[iF0In] = rate(y[iPack])
	return d, s, flow
}

// rate is the plain lethal rate at 121.1 degC, in minutes a second.
func rate(t float64) float64 { return math.Exp(math.Ln10/10*(t-121.1)) / 60 }

type flows struct{ steam, air, heat, valve, relief float64 } // kg/s, mol/s, W, kg/s, kg/s

// flow is what leaves by the air valve and the safety valve, as the mixture that is inside; through an
// open valve of a pot that has cooled air comes in.
func (b *Body) flow(s *inside, y *vec, h Hands) (f flows) {
	out := float64(b.Ambient)
	moles := y[iN] / s.free
	density := s.rho + moles*airM
	if h.Valve > 0 {
		outside := out * airM / gasR / (float64(b.Around) + kelvin)
		f.valve = h.Valve * b.Valve * softly(s.p, out, density, outside, b.K)
	}
	if over := s.p - out - float64(b.ReliefAt); b.ReliefAt > 0 && over > 0 {
		lift := min(over/(0.1*float64(b.ReliefAt)), 1)
		f.relief = lift * b.Relief * softly(s.p, out, density, density, b.K)
	}
	if m := f.valve + f.relief; m >= 0 {
		volume := m / density
		f.steam, f.air = volume*s.rho, volume*moles
		f.heat = f.steam*s.hv() + f.air*airCp*s.k
		return f
	}
	f.air = f.valve / airM
	f.heat = f.air * airCp * (float64(b.Around) + kelvin)
	return f
}

// packs warm by what condenses on them, towards the temperature that the steam between their layers can have.
func (b *Body) packs(d, y *vec, s *inside, h Hands) {
	reach := y[iT]
	if x := y[iX]; x > 0 {
		reach = boil((1-x)*s.p, y[iT], s.wet)
	}
	if b.Packs.Lag > 0 {
		d[iPack] = (reach - y[iPack]) / b.Packs.Lag
	}
	share := s.air / s.p
	away := b.Packs.AirShut
	if h.Valve > 0 && s.p > float64(b.Ambient) && share < 0.5 {
		away = b.Packs.AirOpen
	}
	if away > 0 {
		d[iX] = (share - y[iX]) / away
	}
}

// boil is the boiling point at p near a known point of the line, by two steps of Newton on ln p.
func boil(p, t float64, w wet) float64 {
	k := t + kelvin
	// ln p is nearly straight in 1/T
	b := w.dp / w.p * k * k
	x := 1/k - math.Log(p/w.p)/b
	return min(max(1/x-kelvin, coldest), hottest)
}

// march goes one step of classical fourth order (Runge and Kutta).
func (b *Body) march(y *vec, dt float64, h Hands, table []piece) {
	k1, _, _ := b.rates(y, h, table)
	a := sum(y, &k1, dt/2)
	k2, _, _ := b.rates(&a, h, table)
	a = sum(y, &k2, dt/2)
	k3, _, _ := b.rates(&a, h, table)
	a = sum(y, &k3, dt)
	k4, _, _ := b.rates(&a, h, table)
	for i := range y {
		y[i] += dt / 6 * (k1[i] + 2*(k2[i]+k3[i]) + k4[i])
	}
}

func sum(y, k *vec, dt float64) (out vec) {
	for i := range y {
		out[i] = y[i] + dt*k[i]
	}
	return out
}
