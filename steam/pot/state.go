package pot

import "mvuke/steam"

// The state is a row of numbers, so that one step of the integration is one sum.
const (
	iT    = iota // degC of water, metal and steam
	iW           // kg of water in the vessel, liquid and steam
	iN           // mol of air in the free space
	iPack        // degC inside the packs
	iX           // share of air inside the packs
	iFire        // W reaching the pot from the fire
	iIn          // J from the fire
	iLost        // J to the air around
	iOut         // J with steam and air, less air drawn in
	iGone        // kg of water gone as steam
	iF0          // minutes at 121.1 degC, chamber
	iF0In        // the same inside the packs
	size
)

type vec [size]float64

// State is what stands in the pot now.
type State struct {
	T        steam.Celsius
	P        steam.Absolute
	Over     steam.Over // what an exact gauge shows
	Water    float64    // kg of liquid
	Steam    float64    // kg
	Air      float64    // share of air in the free space, by volume
	Pack     steam.Celsius
	PackAir  float64
	Heat     float64 // W reaching the pot
	Out      float64 // kg/s leaving by the air valve; negative: air is drawn in
	Relief   float64 // kg/s leaving by the safety valve
	Given    float64 // J from the fire since the start
	Gone     float64 // kg of water gone as steam since the start
	F0, F0In float64 // minutes at 121.1 degC, z = 10 K: chamber, inside the packs
}

const (
	gasR   = 8.314462618 // J/(mol K), CODATA 2018
	airM   = 0.0289652   // kg/mol
	airCv  = 20.8        // J/(mol K), handbook figure at room temperature
	airCp  = airCv + gasR
	kelvin = 273.15
)

// inside is the state's properties, worked out once a step.
type inside struct {
	wet
	water, vapour float64 // kg
	free          float64 // m3
	air           float64 // Pa of air
	p             float64 // Pa in all
	k             float64 // K
}

func (b *Body) inside(y *vec, table []piece) inside {
	s := inside{wet: lookUp(table, y[iT]), k: y[iT] + kelvin}
	s.water = (y[iW] - s.rho*b.Volume) / (1 - s.rho*s.vl)
	s.vapour = y[iW] - s.water
	s.free = b.Volume - s.water*s.vl
	s.air = y[iN] * gasR * s.k / s.free
	s.p = s.wet.p + s.air
	return s
}

// energy is what is stored, J, counted from water and metal at 0 degC and air at 0 K.
func (b *Body) energy(y *vec, table []piece) float64 {
	s := b.inside(y, table)
	return s.water*s.ul + s.vapour*s.uv + y[iN]*airCv*s.k + (b.Metal+b.Load)*y[iT] + b.Packs.Heat*y[iPack]
}
