package widgets

// paintCurve draws everything of a curve except its words.
func paintCurve(p *pen, s CurveSpec, a axes) {
	if finite(s.Level) {
		y := a.y(s.Level)
		p.dash(Point{a.left, y}, Point{a.right, y}, 4, 6, 2, Blue)
	}
	for _, run := range runs(s.Ideal, a) {
		p.stroke(run, 10, Pale)
	}
	gaps := map[int]bool{}
	for _, g := range s.Gaps {
		gaps[g] = true
	}
	for i := range s.Real {
		if i == 0 || !finite(s.Real[i].X, s.Real[i].Y, s.Real[i-1].X, s.Real[i-1].Y) {
			continue
		}
		from, to := a.at(s.Real[i-1]), a.at(s.Real[i])
		if gaps[i-1] {
			p.dash(from, to, 7, 8, 6, Ink)
			p.dash(from, to, 7, 8, 3.5, Amber)
		} else {
			p.stroke([]Point{from, to}, 4, Ink)
		}
	}
	for _, i := range dots(s.Real, a) {
		p.disc(a.at(s.Real[i]), 4, Ink)
	}
	if s.Bead >= 0 && s.Bead < len(s.Real) && finite(s.Real[s.Bead].X, s.Real[s.Bead].Y) {
		at := a.at(s.Real[s.Bead])
		p.disc(at, 12.5, White)
		p.disc(at, 10, Vermilion)
	}
}

func (a axes) at(p Point) Point { return Point{a.x(p.X), a.y(p.Y)} }

// runs cuts a path where a point cannot be drawn.
func runs(pts []Point, a axes) [][]Point {
	var out [][]Point
	var run []Point
	for _, p := range pts {
		if finite(p.X, p.Y) {
			run = append(run, a.at(p))
			continue
		}
		out, run = append(out, run), nil
	}
	return append(out, run)
}

// dots are the points that get a dot: all, unless they would run together.
func dots(pts []Point, a axes) []int {
	var out []int
	last := -1e9
	for i, p := range pts {
		if x := a.x(p.X); finite(p.X, p.Y) && x-last >= 11 {
			out, last = append(out, i), x
		}
	}
	return out
}
