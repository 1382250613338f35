package widgets

import (
	"image"
	"image/color"
	"math"
)

// The picture is laid out on a board of this size and then grows as a whole.
const hearthWide, hearthTall = 220, 230

// board draws with the coordinates of the layout, turned by an angle if need
// be; ox and oy are where its origin lies in the units of the pen.
type board struct {
	p        *pen
	k        float64 // units of the pen for one of the board
	ox, oy   float64
	sin, cos float64
}

// newBoard fits the layout into a space, in its middle.
func newBoard(p *pen, wide, tall float64) board {
	k := min(wide/hearthWide, tall/hearthTall)
	return board{p: p, k: k, ox: (wide - k*hearthWide) / 2, oy: (tall - k*hearthTall) / 2, cos: 1}
}

// moved is a board with its origin elsewhere, turned clockwise.
func (b board) moved(x, y, degrees float64) board {
	at := b.at(Point{x, y})
	b.ox, b.oy = at.X, at.Y
	b.sin, b.cos = math.Sincos(degrees * math.Pi / 180)
	return b
}

func (b board) at(q Point) Point {
	return Point{b.ox + b.k*(q.X*b.cos-q.Y*b.sin), b.oy + b.k*(q.X*b.sin+q.Y*b.cos)}
}

func (b board) all(pts []Point) []Point {
	out := make([]Point, len(pts))
	for i, q := range pts {
		out[i] = b.at(q)
	}
	return out
}

// area fills an outline and draws its edge; an edge of 0 leaves it out.
func (b board) area(pts []Point, in, edge color.Color, width float64) {
	pts = b.all(pts)
	b.p.fill(pts, in)
	b.p.loop(pts, width*b.k, edge)
}

func (b board) line(width float64, c color.Color, pts ...Point) {
	b.p.stroke(b.all(pts), width*b.k, c)
}

// union fills many outlines as if they were one. All must be walked clockwise,
// or they would cut holes into each other.
func (b board) union(c color.Color, outlines ...[]Point) {
	for _, o := range outlines {
		if o = b.all(o); b.p.ok(o) {
			b.p.add(o)
		}
	}
	b.p.flush(image.NewUniform(c))
}

// rounded is a rectangle whose upper and lower corners have their own radius.
func rounded(left, top, right, bottom, upper, lower float64) []Point {
	var out []Point
	corner := func(x, y, r, from float64) {
		if r <= 0 {
			out = append(out, Point{x, y})
			return
		}
		out = append(out, arcPoints(Point{x, y}, r, from, from+90)...)
	}
	corner(left+upper, top+upper, upper, 270)
	corner(right-upper, top+upper, upper, 0)
	corner(right-lower, bottom-lower, lower, 90)
	corner(left+lower, bottom-lower, lower, 180)
	return out
}

// sway is a smooth, endless to and fro between -1 and 1, other for every part.
func sway(tick, part int) float64 {
	t, i := float64(tick), float64(part)
	return 0.65*math.Sin(t*0.83+i*2.4) + 0.35*math.Sin(t*1.91+i*4.1)
}
