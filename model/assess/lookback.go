package assess

import (
	"math"

	"mvuke/model"
	"mvuke/steam"
)

// Found is what was found out after a load was run.
type Found struct {
	Points         []model.FrozenCorrection // what its gauge showed too much, by rising figure; none: nothing was found of it
	Unit           string                   // of the dial that it was found on; another than the plan's is converted
	ReferenceMilli int64                    // how far that may be off itself, thousandths of the dial's unit
	NeedPa         int64                    // overpressure needed where it was run, by the altitude that holds; 0: as planned
	NominalPa      int64                    // air there; 0: as planned
	LowPa          int64
	HighPa         int64
}

// LookBack gives what a load is judged by once its gauge or its altitude is known better: the same readings, the needle's figure for the need as that gauge shows it, and the
// comparison's own error in the place of the class's. The restart line is not rounded to the dial's lines here: the record is judged, and nobody has to read it at the fire.
func LookBack(in Input, f Found) Input {
	p := in.Plan
	p.Corrections = nil
	p.Standing = string(steam.Vouched)
	if len(f.Points) > 0 {
		from, to := steam.Unit(f.Unit), steam.Unit(p.Unit)
		if !from.Known() {
			from = to
		}
		in2 := func(milli int64) int64 { return int64(math.Ceil(to.Of(from.Over(float64(milli)/1000))*1000 - 1e-6)) }
		for _, x := range f.Points {
			p.Corrections = append(p.Corrections, model.FrozenCorrection{AtMilli: in2(x.AtMilli), ErrorMilli: in2(x.ErrorMilli)})
		}
		p.Standing, p.ErrorPa = string(steam.Compared), up(float64(from.Over(float64(f.ReferenceMilli)/1000)))
	} else {
		p.Corrections, p.Standing = in.Plan.Corrections, in.Plan.Standing
	}
	if f.NeedPa > 0 {
		p.NeedPa, p.NominalPa, p.LowPa, p.HighPa = f.NeedPa, f.NominalPa, f.LowPa, f.HighPa
	}
	g, _ := thaw(p)
	p.RestartMilli = int64(math.Ceil(g.Shown(steam.Over(p.NeedPa))*1000 - 1e-6))
	in.Plan = p
	return in
}
