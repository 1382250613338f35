package widgets

import (
	"image/color"
)

// Shape is a sign that carries a meaning together with a colour and a word,
// so that none of the three has to be seen for the others to be understood.
type Shape int

const (
	// Octagon is filled, with eight corners.
	Octagon Shape = iota
	// Disc is a filled circle.
	Disc
	// Square is an open square with rounded corners.
	Square
	// Triangle is an open triangle standing on its base.
	Triangle
	// Diamond is an open square standing on a corner.
	Diamond
	// Check is two strokes, as on a ticked list.
	Check
	// Cross is two crossing strokes.
	Cross
)

// paintShape draws a shape in the middle of an area.
func paintShape(p *pen, s Shape, c color.Color, w, h float64) {
	paintShapeAt(p, s, c, Point{w / 2, h / 2}, min(w, h))
}

// paintShapeAt draws one around a point.
func paintShapeAt(p *pen, s Shape, c color.Color, mid Point, side float64) {
	at := func(x, y float64) Point { // -1 to 1 from the middle
		return Point{mid.X + x*side/2, mid.Y + y*side/2}
	}
	thick := max(1.5, side*0.085)
	closed := func(pts ...Point) {
		p.loop(pts, thick, c)
	}
	switch s {
	case Octagon:
		const a, b = 0.92, 0.40
		p.fill([]Point{at(-b, -a), at(b, -a), at(a, -b), at(a, b), at(b, a), at(-b, a), at(-a, b), at(-a, -b)}, c)
	case Disc:
		p.disc(at(0, 0), side*0.44, c)
	case Square:
		const a = 0.80
		closed(at(-a, -a), at(a, -a), at(a, a), at(-a, a))
	case Triangle:
		closed(at(0, -0.80), at(0.88, 0.74), at(-0.88, 0.74))
	case Diamond:
		const a = 0.88
		closed(at(0, -a), at(a, 0), at(0, a), at(-a, 0))
	case Check:
		p.stroke([]Point{at(-0.72, 0.08), at(-0.2, 0.58), at(0.74, -0.56)}, side*0.16, c)
	case Cross:
		p.stroke([]Point{at(-0.6, -0.6), at(0.6, 0.6)}, side*0.16, c)
		p.stroke([]Point{at(0.6, -0.6), at(-0.6, 0.6)}, side*0.16, c)
	}
}
