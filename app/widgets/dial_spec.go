package widgets

import (
	"math"
	"strconv"
)

// DialSpec describes a dial. Its scale runs from Start to Span with a line at
// every Line. Mark, Restart, Limit and Needle are places on it, or NaN when
// there is no such place.
type DialSpec struct {
	// Span is the value at the end of the scale, Line the distance between
	// two of its lines, and Start the value at the beginning.
	Span, Line, Start float64
	// Unit is written in the lower half.
	Unit string
	// Mark is where the needle should stay, Restart the place it must not
	// fall below, Limit the beginning of the hatched end of the scale.
	Mark, Restart, Limit, Needle float64
}

// safe returns a spec that can be drawn whatever the numbers were.
func (s DialSpec) safe() DialSpec {
	if !finite(s.Start) {
		s.Start = 0
	}
	if !finite(s.Span) || s.Span-s.Start <= 1e-9*max(1, math.Abs(s.Start)) {
		s.Span = s.Start + max(1, math.Abs(s.Start)/100)
	}
	wide := s.Span - s.Start
	if !finite(s.Line) || s.Line <= 0 || s.Line > wide {
		s.Line = wide / 50
	}
	if s.Line < wide/1e6 {
		s.Line = wide / 1e6
	}
	for _, v := range []*float64{&s.Mark, &s.Restart, &s.Limit, &s.Needle} {
		if !finite(*v) {
			*v = math.NaN()
		}
	}
	return s
}

// snap rounds to the nearest half line and stays on the scale.
func (s DialSpec) snap(v float64) float64 {
	if !finite(v) {
		return s.Start
	}
	half := s.Line / 2
	v = s.Start + math.Round((v-s.Start)/half)*half
	// Rounding away the last bits keeps 0.1 steps from showing as 0.30000004.
	p := math.Pow(10, 9-math.Ceil(math.Log10(max(1e-9, s.Span-s.Start))))
	if r := math.Round(v*p) / p; finite(r) {
		v = r
	}
	return clamp(v, s.Start, s.Span)
}

// tickStep is the distance of the minor lines, thinned to at most 60.
func (s DialSpec) tickStep() float64 {
	step := s.Line
	for _, m := range []float64{2, 2.5, 2, 2, 2.5, 2, 2, 2.5, 2, 2, 2.5, 2, 2, 2.5, 2} {
		if (s.Span-s.Start)/step <= 60 {
			break
		}
		step *= m
	}
	return step
}

// labelStep chooses a round distance that gives about five to eight labels.
func (s DialSpec) labelStep() float64 {
	wide := s.Span - s.Start
	best, least := wide/5, math.Inf(1)
	power := math.Pow(10, math.Floor(math.Log10(wide))-2)
	for range 3 {
		for _, m := range []float64{1, 2, 2.5, 5} {
			step := m * power
			if cost := s.labelCost(step); cost < least {
				best, least = step, cost
			}
		}
		power *= 10
	}
	return best
}

func (s DialSpec) labelCost(step float64) float64 {
	n := (s.Span - s.Start) / step
	labels, cost := math.Floor(n+1e-6)+1, 0.0
	if labels > 8 {
		cost += labels - 8
	} else if labels < 5 {
		cost += 5 - labels
	}
	whole := func(v float64) bool { return math.Abs(v-math.Round(v)) < 1e-6 }
	if !whole(n) {
		cost += 1.5
	}
	if !whole(step / s.Line) {
		cost += 1.5
	}
	return cost
}

// labels are the values that get a long line and a number.
func (s DialSpec) labels() []float64 {
	step := s.labelStep()
	first := math.Ceil(s.Start/step-1e-6) * step
	var out []float64
	for i := range 12 {
		v := first + float64(i)*step
		if !finite(v) || v > s.Span+step*1e-6 {
			break
		}
		out = append(out, v)
	}
	return out
}

// number writes a value without needless digits.
func number(v float64) string {
	if !finite(v) {
		return ""
	}
	v = math.Round(v*1e4)/1e4 + 0 // no "-0"
	return strconv.FormatFloat(v, 'f', -1, 64)
}
