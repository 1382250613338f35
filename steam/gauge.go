package steam

import "math"

// Standing says how far a gauge's word is vouched for by comparison with a
// reference. A dial that nobody compared, or not within the district's interval,
// counts as the worst class whatever its plate says.
type Standing string

// The standings of a gauge.
const (
	Compared Standing = "compared"
	Never    Standing = "never"
	Overdue  Standing = "overdue"
	Vouched  Standing = "vouched" // the caller answers for the class (headless tool)
)

// WorstClass is the class counted for a gauge that nothing vouches for, the
// coarsest of EN 837-1.
const WorstClass = 4

// Classes are the accuracy classes of EN 837-1: the greatest permissible error in per cent of span.
var Classes = []float64{0.1, 0.25, 0.6, 1, 1.6, 2.5, 4}

// Correction is one point of a comparison: what the gauge showed above the truth.
type Correction struct{ At, Error float64 } // both in the dial's unit

// Gauge is the dial on the lid.
type Gauge struct {
	Unit           Unit
	Span           float64 // end of the scale
	Line           float64 // finest printed line
	Class          float64 // of EN 837-1; 0: exact (bare physics); negative: unknown
	Standing       Standing
	Corrections    []Correction // of the last comparison, by rising At; empty: none
	ReferenceError float64      // how far that comparison itself may be off
	Offset         Over         // what the dial shows at rest, for dials that do not start at zero
}

// CountedClass is the class that the sums use.
func (g Gauge) CountedClass() float64 {
	if g.Class == 0 && g.Standing == Vouched {
		return 0
	}
	if g.Class < 0 || g.Standing == Never || g.Standing == Overdue {
		return WorstClass
	}
	return g.Class
}

// Error is the greatest error of a reading, in pascal: that of the comparison
// where there is one, else the class's share of the span.
func (g Gauge) Error() Over {
	if len(g.Corrections) > 0 && g.Standing == Compared {
		return g.Unit.Over(g.ReferenceError)
	}
	return g.Unit.Over(g.CountedClass() / 100 * g.Span)
}

// ReadingError is half of the finest line: a person cannot be asked to see more. An
// exact gauge has none.
func (g Gauge) ReadingError() Over {
	if g.Class == 0 && g.Standing == Vouched {
		return 0
	}
	return g.Unit.Over(g.Line / 2)
}

// True is the overpressure behind a shown figure, by the comparison's
// corrections (straight between its points, the nearest point's outside).
func (g Gauge) True(shown float64) Over {
	return g.Unit.Over(shown-g.correction(shown)) - g.Offset
}

// Shown is the figure at which the needle stands for an overpressure.
func (g Gauge) Shown(p Over) float64 {
	bare := g.Unit.Of(p + g.Offset)
	shown := bare + g.correction(bare)
	for range 20 { // the correction is asked at the shown figure: settle it
		shown = bare + g.correction(shown)
	}
	return shown
}

// correction is what the dial shows too much. Of a comparison that is overdue, or whose maker's word counts no more, only that part counts by which the dial shows too much; what it
// may err besides is the class's.
func (g Gauge) correction(shown float64) float64 {
	e := g.found(shown)
	if g.Standing != Compared {
		return max(e, 0)
	}
	return e
}

// found is what the comparison found, straight between its points.
func (g Gauge) found(shown float64) float64 {
	c := g.Corrections
	if len(c) == 0 {
		return 0
	}
	if shown <= c[0].At {
		return c[0].Error
	}
	for i := 1; i < len(c); i++ {
		if shown <= c[i].At {
			f := (shown - c[i-1].At) / (c[i].At - c[i-1].At)
			return c[i-1].Error + f*(c[i].Error-c[i-1].Error)
		}
	}
	return c[len(c)-1].Error
}

// Rest is what the needle at rest, lid open and cold, tells of a dial.
type Rest string

// What a needle at rest can mean.
const (
	RestZero      Rest = "zero"      // an ordinary gauge, within its class
	RestAbsolute  Rest = "absolute"  // the dial shows absolute pressure
	RestShifted   Rest = "shifted"   // an ordinary gauge printed to start at one atmosphere
	RestUnbounded Rest = "unbounded" // off zero by more than its class: no bound on any reading
)

// AtRest judges the needle at rest. A dial that rests at the ambient pressure
// is absolute; one that rests at about 101 kPa is a gauge with a shifted print; at a
// site near sea level the two agree. Anything else is not to be trusted. The rest is
// never subtracted in the friendly direction.
func (g Gauge) AtRest(shown float64, air Ambient) (Rest, Over) {
	p, err := float64(g.Unit.Over(shown)), float64(g.ownError())
	switch {
	case math.Abs(p) <= err:
		return RestZero, 0
	case math.Abs(p-float64(air.Nominal)) <= err+float64(air.High-air.Low)/2 && !nearer(p, seaLevel, float64(air.Nominal)):
		return RestAbsolute, Over(air.Nominal)
	case math.Abs(p-seaLevel) <= err:
		return RestShifted, Over(p)
	}
	return RestUnbounded, 0
}

// ownError is the error of the plate (or of the worst class where there is none): a
// needle off zero by more is bent, whatever a comparison said before.
func (g Gauge) ownError() Over {
	c := g.Class
	if c < 0 {
		c = WorstClass
	}
	return g.Unit.Over(c/100*g.Span) + 1 // 1 Pa: the dust of a typed decimal
}

func nearer(p, a, b float64) bool { return math.Abs(p-a) < math.Abs(p-b) }
