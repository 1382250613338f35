package widgets

import "math"

// axes turn values into places.
type axes struct {
	x0, x1, y0, y1           float64 // the values at the edges
	left, right, top, bottom float64 // the edges
}

func newAxes(s CurveSpec, w, h float64) axes {
	a := axes{x0: math.Inf(1), x1: math.Inf(-1), y0: math.Inf(1), y1: math.Inf(-1)}
	for _, pts := range [][]Point{s.Ideal, s.Real} {
		for _, p := range pts {
			if finite(p.X, p.Y) {
				a.x0, a.x1 = min(a.x0, p.X), max(a.x1, p.X)
				a.y0, a.y1 = min(a.y0, p.Y), max(a.y1, p.Y)
			}
		}
	}
	if finite(s.Level) {
		a.y0, a.y1 = min(a.y0, s.Level), max(a.y1, s.Level)
	}
	for _, m := range s.Steps {
		if finite(m.At) {
			a.x0, a.x1 = min(a.x0, m.At), max(a.x1, m.At)
		}
	}
	a.x0, a.x1 = spread(a.x0, a.x1)
	a.y0, a.y1 = spread(a.y0, a.y1)
	below := 12.0
	if len(s.Steps) > 0 {
		below += float64(lineHeight(stepFont(float32(h)), false)) + 6
	}
	a.left, a.right = 14, max(15, w-14)
	a.top, a.bottom = 18, max(19, h-below)
	return a
}

// spread opens an empty range so that nothing is divided by zero.
func spread(lo, hi float64) (float64, float64) {
	if !finite(lo, hi) {
		return 0, 1
	}
	if least := max(1e-6, math.Abs(lo)*1e-9, math.Abs(hi)*1e-9); hi-lo < least {
		return lo - max(1, least), hi + max(1, least)
	}
	return lo, hi
}

func (a axes) x(v float64) float64 {
	if !finite(v) {
		return a.left
	}
	return a.left + (v-a.x0)/(a.x1-a.x0)*(a.right-a.left)
}

func (a axes) y(v float64) float64 {
	if !finite(v) {
		return a.bottom
	}
	return a.bottom - (v-a.y0)/(a.y1-a.y0)*(a.bottom-a.top)
}
