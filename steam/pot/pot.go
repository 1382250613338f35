package pot

import (
	"math"

	"mvuke/steam"
)

// Pot is a body with time running through it.
type Pot struct {
	Body  Body
	Hands Hands
	Dry   bool // the water was gone; the picture ends here

	y     vec
	start float64 // J stored at the start
	table []piece
	finer int // the step is divided by this; a test halves it
}

// Start is how a pot is filled.
type Start struct {
	T     steam.Celsius // of everything
	Water float64       // kg
	Air   bool          // the free space is full of air at the ambient pressure; false: steam only
	Heat  float64       // W already reaching the pot
}

// driest is the water at which the picture of one temperature ends, kg.
const driest = 0.15

// New fills a pot.
func New(b Body, s Start) (*Pot, error) {
	if err := b.Check(); err != nil {
		return nil, err
	}
	if !(s.T >= coldest+1 && s.T <= hottest-1) {
		return nil, &BadBody{"temperature", float64(s.T), coldest + 1, hottest - 1}
	}
	if most := b.Volume * 800; !(s.Water > driest && s.Water < most) {
		return nil, &BadBody{"water", s.Water, driest, most}
	}
	p := &Pot{Body: b, table: pieces(), finer: 1}
	w := lookUp(p.table, float64(s.T))
	p.y[iT], p.y[iPack] = float64(s.T), float64(s.T)
	free := b.Volume - s.Water*w.vl
	p.y[iW] = s.Water + w.rho*free
	if s.Air {
		p.y[iN] = (float64(b.Ambient) - w.p) * free / (gasR * (float64(s.T) + kelvin))
		p.y[iX] = 1 - w.p/float64(b.Ambient)
	}
	p.y[iFire] = s.Heat
	p.start = b.energy(&p.y, p.table)
	return p, nil
}

// Advance lets seconds pass (any positive number) with the hands as they are.
func (p *Pot) Advance(seconds float64) {
	for left := seconds; left > 1e-9 && !p.Dry; {
		dt := min(left, p.longest()/float64(p.finer))
		p.Body.march(&p.y, dt, p.Hands, p.table)
		left -= dt
		s := p.Body.inside(&p.y, p.table)
		p.Dry = s.water < driest || p.y[iT] > hottest-1 || math.IsNaN(p.y[iT])
	}
}

// longest is the step that stays stable: the air answers to a wide open valve within a quarter of a second, to
// one that is a little open within two.
func (p *Pot) longest() float64 {
	if p.Hands.Valve*p.Body.Valve > 4e-6 {
		return 0.25
	}
	return 1
}

// State is what stands in the pot now.
func (p *Pot) State() State {
	_, s, f := p.Body.rates(&p.y, p.Hands, p.table)
	y := &p.y
	return State{T: steam.Celsius(y[iT]), P: steam.Absolute(s.p), Over: steam.Over(s.p) - steam.Over(p.Body.Ambient),
		Water: s.water, Steam: s.vapour, Air: s.air / s.p, Pack: steam.Celsius(y[iPack]), PackAir: y[iX], Heat: y[iFire],
		Out: f.valve, Relief: f.relief, Given: y[iIn], Gone: y[iGone], F0: y[iF0], F0In: y[iF0In]}
}

// Books gives how far the balances of energy and of water are from closing, each as a share of what
// went through.
func (p *Pot) Books() (energy, water float64) {
	y := &p.y
	now := p.Body.energy(y, p.table)
	through := y[iIn] + math.Abs(y[iLost]) + math.Abs(y[iOut]) + p.start
	energy = math.Abs(now-p.start-y[iIn]+y[iLost]+y[iOut]) / through
	s := p.Body.inside(y, p.table)
	water = math.Abs(s.water+s.vapour-y[iW]) / y[iW]
	return energy, water
}

// Capacity is the heat that one kelvin takes with the packs keeping up, J/K.
func (p *Pot) Capacity() float64 {
	s := p.Body.inside(&p.y, p.table)
	split := 1 / (1 - s.rho*s.vl)
	waterT := (-s.drho*p.Body.Volume + s.water*(s.drho*s.vl+s.rho*s.dvl)) * split
	return s.water*s.dul + s.vapour*s.duv + (s.ul-s.uv)*waterT + p.Body.Metal + p.Body.Load + p.Body.Packs.Heat
}
