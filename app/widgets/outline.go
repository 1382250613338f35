package widgets

import (
	"math"
	"slices"
)

// lineOutline is the outline of a line through the points, r to either side,
// with round ends. Drawing one outline instead of many overlapping pieces
// keeps the edges even.
func lineOutline(pts []Point, r float64) []Point {
	pts = apart(pts)
	if len(pts) == 1 {
		return arcPoints(pts[0], r, 0, 360)
	}
	out := outlineSide(nil, pts, r, false)
	out = outlineTurn(out, pts[len(pts)-1], unit(pts[len(pts)-2], pts[len(pts)-1]), r, math.Pi)
	back := slices.Clone(pts)
	slices.Reverse(back)
	out = outlineSide(out, back, r, false)
	return outlineTurn(out, pts[0], unit(pts[1], pts[0]), r, math.Pi)
}

// loopOutlines are the two edges of a closed line.
func loopOutlines(pts []Point, r float64) (one, other []Point) {
	pts = apart(pts)
	one = outlineSide(nil, pts, r, true)
	back := slices.Clone(pts)
	slices.Reverse(back)
	return one, outlineSide(nil, back, r, true)
}

// apart leaves out points that lie on the one before.
func apart(pts []Point) []Point {
	out := pts[:1:1]
	for _, p := range pts[1:] {
		if l := out[len(out)-1]; math.Hypot(p.X-l.X, p.Y-l.Y) > 1e-6 {
			out = append(out, p)
		}
	}
	return out
}

// unit is the direction from a to b.
func unit(a, b Point) Point {
	l := max(math.Hypot(b.X-a.X, b.Y-a.Y), 1e-9)
	return Point{(b.X - a.X) / l, (b.Y - a.Y) / l}
}

// outlineSide walks along the left side of a line; joints are round outside.
func outlineSide(out, pts []Point, r float64, closed bool) []Point {
	n := len(pts)
	segments := n - 1
	if closed {
		segments = n
	}
	for i := range segments {
		a, b := pts[i], pts[(i+1)%n]
		d := unit(a, b)
		if i > 0 || closed {
			before := unit(pts[(i-1+n)%n], a)
			cross := before.X*d.Y - before.Y*d.X
			dot := before.X*d.X + before.Y*d.Y
			if cross > 0 {
				out = outlineTurn(out, a, before, r, math.Atan2(cross, dot))
			} else {
				out = append(out, a)
			}
		}
		out = append(out, Point{a.X + d.Y*r, a.Y - d.X*r}, Point{b.X + d.Y*r, b.Y - d.X*r})
	}
	return out
}

// outlineTurn goes clockwise around a point, from the left of direction d.
func outlineTurn(out []Point, mid, d Point, r, by float64) []Point {
	from := math.Atan2(-d.X, d.Y)
	n := int(clamp(by*(2+r/2), 1, 60))
	for i := 1; i <= n; i++ {
		sin, cos := math.Sincos(from + by*float64(i)/float64(n))
		out = append(out, Point{mid.X + r*cos, mid.Y + r*sin})
	}
	return out
}
