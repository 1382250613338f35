package assess

import (
	"math"

	"mvuke/model"
	"mvuke/steam"
)

// Found is what was found out after a load was run.
type Found struct {
	Points         []model.FrozenCorrection // what its gauge showed too much, by rising figure; none: nothing was found of it
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
		p.Corrections, p.Standing = f.Points, string(steam.Compared)
		p.ErrorPa = up(float64(steam.Unit(p.Unit).Over(float64(f.ReferenceMilli) / 1000)))
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
