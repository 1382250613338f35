package pot

import (
	"math"
	"sync"

	"mvuke/steam"
)

// The simulator asks for saturated steam a hundred thousand times a cycle. It asks this table: cubic pieces
// between exact values and slopes, half a kelvin apart, within tableError of the formulation itself (a test
// compares them all along the line).

// tableError is the greatest relative error of the table.
const tableError = 2e-8

// wet is water and steam at one temperature, with the slopes by temperature.
type wet struct {
	p, rho, vl, ul, uv      float64 // Pa, kg/m3 of steam, m3/kg of water, J/kg of water and of steam
	dp, drho, dvl, dul, duv float64 // the same per kelvin
}

// hv is the enthalpy of the steam, J/kg.
func (w wet) hv() float64 { return w.uv + w.p/w.rho }

// latent is the heat of evaporation, J/kg.
func (w wet) latent() float64 { return w.hv() - w.ul - w.p*w.vl }

const (
	coldest, hottest = 1.5, 179.5 // a little inside the formulation's range, so that slopes can be taken
	gap              = 0.5        // K
)

type piece [5][4]float64

var pieces = sync.OnceValue(func() []piece {
	n := int(math.Round((hottest - coldest) / gap))
	out := make([]piece, n)
	at := func(i int) (v, d [5]float64) {
		t := coldest + float64(i)*gap
		const h = 1e-3
		v, a, b := exact(t), exact(t-h), exact(t+h)
		for k := range v {
			d[k] = (b[k] - a[k]) / (2 * h) * gap
		}
		return v, d
	}
	v0, d0 := at(0)
	for i := range out {
		v1, d1 := at(i + 1)
		for k := range v0 {
			out[i][k] = [4]float64{v0[k], d0[k], 3*(v1[k]-v0[k]) - 2*d0[k] - d1[k], 2*(v0[k]-v1[k]) + d0[k] + d1[k]}
		}
		v0, d0 = v1, d1
	}
	return out
})

func exact(t float64) [5]float64 {
	s, err := steam.Saturation(steam.Celsius(t))
	if err != nil {
		panic(err) // the table lies inside the formulation's range
	}
	return [5]float64{float64(s.P), 1 / s.Vapour.V, s.Liquid.V, s.Liquid.U(s.P), s.Vapour.U(s.P)}
}

// lookUp reads the table at t degC, held to its ends.
func lookUp(table []piece, t float64) wet {
	x := (t - coldest) / gap
	i := min(max(int(x), 0), len(table)-1)
	x -= float64(i)
	var v, d [5]float64
	for k, c := range &table[i] {
		v[k] = c[0] + x*(c[1]+x*(c[2]+x*c[3]))
		d[k] = (c[1] + x*(2*c[2]+x*3*c[3])) / gap
	}
	return wet{v[0], v[1], v[2], v[3], v[4], d[0], d[1], d[2], d[3], d[4]}
}
