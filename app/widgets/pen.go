package widgets

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"golang.org/x/image/vector"
)

// pen draws smooth shapes into a picture. Its coordinates are the same
// device-independent units as everything else; scale turns them into pixels.
type pen struct {
	img   *image.RGBA
	scale float64
	ras   vector.Rasterizer
	paths [][]Point // closed outlines in pixels, waiting for flush
}

// drawing makes a canvas object that paint fills anew whenever its size
// changes or it is refreshed; paint gets the size in units.
func drawing(paint func(p *pen, w, h float64)) *canvas.Raster {
	r := &canvas.Raster{}
	r.Generator = func(w, h int) image.Image {
		w, h = clamp(w, 1, 8192), clamp(h, 1, 8192)
		p := &pen{img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: 1}
		if size := r.Size(); size.Width > 0.5 {
			p.scale = float64(w) / float64(size.Width)
		}
		paint(p, float64(w)/p.scale, float64(h)/p.scale)
		return p.img
	}
	r.SetMinSize(fyne.NewSize(1, 1))
	return r
}

// ok keeps what cannot be drawn from reaching the rasterizer.
func (p *pen) ok(pts []Point) bool {
	for _, q := range pts {
		if !finite(q.X, q.Y) || math.Abs(q.X) > 2e4 || math.Abs(q.Y) > 2e4 {
			return false
		}
	}
	return len(pts) > 1
}

// add puts a closed outline on the waiting list, as it is turned.
func (p *pen) add(pts []Point) {
	px := make([]Point, len(pts))
	for i, q := range pts {
		px[i] = Point{q.X * p.scale, q.Y * p.scale}
	}
	p.paths = append(p.paths, px)
}

// flush paints all that waits, touching only the pixels it needs.
func (p *pen) flush(src image.Image) {
	lo, hi := Point{1e9, 1e9}, Point{-1e9, -1e9}
	for _, path := range p.paths {
		for _, q := range path {
			lo = Point{min(lo.X, q.X), min(lo.Y, q.Y)}
			hi = Point{max(hi.X, q.X), max(hi.Y, q.Y)}
		}
	}
	box := image.Rect(int(lo.X)-1, int(lo.Y)-1, int(hi.X)+2, int(hi.Y)+2).Intersect(p.img.Bounds())
	paths := p.paths
	p.paths = nil
	if box.Empty() || len(paths) == 0 {
		return
	}
	p.ras.Reset(box.Dx(), box.Dy())
	x, y := float64(box.Min.X), float64(box.Min.Y)
	for _, path := range paths {
		for i, q := range path {
			if i == 0 {
				p.ras.MoveTo(float32(q.X-x), float32(q.Y-y))
			} else {
				p.ras.LineTo(float32(q.X-x), float32(q.Y-y))
			}
		}
		p.ras.ClosePath()
	}
	p.ras.Draw(p.img, box, src, box.Min)
}

// fill paints the inside of an outline.
func (p *pen) fill(pts []Point, c color.Color) {
	if p.ok(pts) {
		p.add(pts)
		p.flush(image.NewUniform(c))
	}
}

// stroke draws a line through the points with round ends and joints.
func (p *pen) stroke(pts []Point, width float64, c color.Color) {
	if p.ok(pts) && width > 0 {
		p.add(lineOutline(pts, width/2))
		p.flush(image.NewUniform(c))
	}
}

// loop draws a closed line through the points.
func (p *pen) loop(pts []Point, width float64, c color.Color) {
	if p.ok(pts) && len(pts) > 2 && width > 0 {
		outer, inner := loopOutlines(pts, width/2)
		p.add(outer)
		p.add(inner)
		p.flush(image.NewUniform(c))
	}
}

// dash draws a straight dashed line from a to b.
func (p *pen) dash(a, b Point, on, off, width float64, c color.Color) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if !p.ok([]Point{a, b}) || l < 1e-6 || on+off < 1 {
		return
	}
	at := func(d float64) Point {
		t := math.Min(d/l, 1)
		return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t}
	}
	for d := 0.0; d < l; d += on + off {
		p.add(lineOutline([]Point{at(d), at(d + on)}, width/2))
	}
	p.flush(image.NewUniform(c))
}

// disc paints a filled circle.
func (p *pen) disc(mid Point, r float64, c color.Color) {
	if r > 0 && r < 1e4 && finite(mid.X, mid.Y) {
		p.fill(arcPoints(mid, r, 0, 360), c)
	}
}

// band paints part of a ring; the angles run clockwise from the top.
func (p *pen) band(mid Point, inner, outer, from, to float64, src image.Image) {
	if !finite(from, to, inner, outer) || to-from < 0.05 || inner < 0 || outer <= inner {
		return
	}
	to = math.Min(to, from+360)
	edge := arcPoints(mid, outer, from, to)
	back := arcPoints(mid, inner, from, to)
	for i := len(back) - 1; i >= 0; i-- {
		edge = append(edge, back[i])
	}
	if p.ok(edge) {
		p.add(edge)
		p.flush(src)
	}
}

// arcPoints walks along a circle; angles are clockwise degrees from the top.
func arcPoints(mid Point, r, from, to float64) []Point {
	n := int(clamp(math.Abs(to-from)/360*(12+r*2), 2, 360))
	pts := make([]Point, 0, n+1)
	for i := 0; i <= n; i++ {
		pts = append(pts, onCircle(mid, r, from+(to-from)*float64(i)/float64(n)))
	}
	return pts
}

func onCircle(mid Point, r, degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Point{mid.X + r*sin, mid.Y - r*cos}
}
