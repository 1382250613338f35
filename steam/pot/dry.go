package pot

import (
	"math"

	"mvuke/steam"
)

// Why a pack comes out wet: steam that gave its heat to the load is water on it. Letting the steam out
// and cooling with the lid ajar drive part of it off again by the load's own heat; the rest drains or stays.

// Stuff is one material of a load.
type Stuff struct {
	Mass float64 // kg
	Heat float64 // J/(kg K)
	Runs bool    // water runs off it, as off metal, and takes its own heat away
}

// condensing is the temperature at which the heat of condensation is taken, between cold and hot.
const condensing steam.Celsius = 110

// Condensate is the water, kg, that condenses on it between two temperatures. Check: 8 kg of steel from 20 to
// 121.1 degC 0.181 kg, 2 kg of cotton 0.122 kg.
func (s Stuff) Condensate(from, to steam.Celsius) (float64, error) {
	h, err := steam.Saturation(condensing)
	if err != nil {
		return 0, err
	}
	return s.Mass * s.Heat * float64(to-from) / h.Latent(), nil
}

// DriedBy is the water, kg, that its own heat (and that of the `wet` kg of water in it) drives off while it cools
// from one temperature to another.
func (s Stuff) DriedBy(wet float64, from, to steam.Celsius) (float64, error) {
	a, b, err := both(from, to)
	if err != nil {
		return 0, err
	}
	heat := s.Mass * s.Heat
	if !s.Runs {
		heat += wet * a.Liquid.Cp
	}
	return min(wet, heat*float64(from-to)/((a.Latent()+b.Latent())/2)), nil
}

// DrySaid is a guess at a load; the eye and the hand at unloading decide.
type DrySaid string

// Guesses.
const (
	LikelyDry  DrySaid = "likely-dry"
	Borderline DrySaid = "borderline"
	LikelyWet  DrySaid = "likely-wet"
)

// Shares of water in cloth: the limit of a dry load (EN 285, from memory) and where it feels damp (from memory).
const (
	DryCloth  = 0.01
	DampCloth = 0.03
)

// Drying is what becomes of the water on a load.
type Drying struct {
	Condensed, Left float64 // kg in the cloth
	Share           float64 // left, of the cloth's mass
	Said            DrySaid
	Extra           float64 // s more at the gentle heat until the cloth's limit is met
	OnMetal         float64 // kg on metal that must have drained: tilt it, no closed basins
}

// Dry follows cloth and metal from cold, through set temperature and letting the steam out at boil, to `end`
// with the lid ajar, and `dried` seconds at `gentle` watts reaching the cloth.
//
// Check: 2 kg of cotton, 121.1, 100 and 60 degC leave 0.038 kg, 1.9 %.
func Dry(cloth, metal Stuff, cold, set, boil, end steam.Celsius, gentle, dried float64) (Drying, error) {
	if !(cloth.Mass > 0) || !(gentle > 0) || dried < 0 {
		return Drying{}, &BadBody{"cloth, heat or time", min(cloth.Mass, gentle, dried), 0, math.Inf(1)}
	}
	left, err := onto(cloth, cold, set, boil, end)
	if err != nil {
		return Drying{}, err
	}
	d := Drying{Left: left}
	if d.Condensed, err = cloth.Condensate(cold, set); err != nil {
		return d, err
	}
	if d.OnMetal, err = onto(metal, cold, set, boil, end); err != nil {
		return d, err
	}
	warm, err := steam.Saturation((boil + end) / 2)
	if err != nil {
		return d, err
	}
	d.Left = max(0, d.Left-gentle*dried/warm.Latent())
	d.Share = d.Left / cloth.Mass
	d.Extra = max(0, (d.Left-DryCloth*cloth.Mass)*warm.Latent()/gentle)
	switch {
	case d.Share <= DryCloth:
		d.Said = LikelyDry
	case d.Share < DampCloth:
		d.Said = Borderline
	default:
		d.Said = LikelyWet
	}
	return d, nil
}

// onto is what stays on a material after letting the steam out and cooling.
func onto(s Stuff, cold, set, boil, end steam.Celsius) (float64, error) {
	wet, err := s.Condensate(cold, set)
	if err != nil {
		return 0, err
	}
	off, err := s.DriedBy(wet, set, boil)
	if err != nil {
		return 0, err
	}
	wet -= off
	if off, err = s.DriedBy(wet, boil, end); err != nil {
		return 0, err
	}
	return wet - off, nil
}
