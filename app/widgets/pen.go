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
	ras   *vector.Rasterizer
}

// drawing makes a canvas object that paint fills anew whenever its size
// changes or it is refreshed; paint gets the size in units.
func drawing(paint func(p *pen, w, h float64)) *canvas.Raster {
	r := &canvas.Raster{}
	r.Generator = func(w, h int) image.Image {
		w, h = clamp(w, 1, 8192), clamp(h, 1, 8192)
		p := &pen{img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: 1}
		p.ras = vector.NewRasterizer(w, h)
		size := r.Size()
		if size.Width > 0.5 {
			p.scale = float64(w) / float64(size.Width)
		}
		paint(p, float64(w)/p.scale, float64(h)/p.scale)
		return p.img
	}
	r.SetMinSize(fyne.NewSize(1, 1))
	return r
}

func (p *pen) ok(pts []Point) bool {
	for _, q := range pts {
		if !finite(q.X, q.Y) || math.Abs(q.X) > 2e4 || math.Abs(q.Y) > 2e4 {
			return false
		}
	}
	return len(pts) > 1
}

// add puts a closed outline into the rasterizer, always turning the same way
// so that overlapping outlines add up and never cancel.
func (p *pen) add(pts []Point) {
	area := 0.0
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		area += a.X*b.Y - b.X*a.Y
	}
	at := func(i int) (float32, float32) {
		if area < 0 {
			i = len(pts) - 1 - i
		}
		return float32(pts[i].X * p.scale), float32(pts[i].Y * p.scale)
	}
	p.ras.MoveTo(at(0))
	for i := 1; i < len(pts); i++ {
		p.ras.LineTo(at(i))
	}
	p.ras.ClosePath()
}

func (p *pen) flush(src image.Image) {
	b := p.img.Bounds()
	p.ras.Draw(p.img, b, src, image.Point{})
	p.ras.Reset(b.Dx(), b.Dy())
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
	if !p.ok(pts) || !(width > 0) {
		return
	}
	for i, a := range pts {
		p.add(arcPoints(a, width/2, 0, 360))
		if i == 0 {
			continue
		}
		z := pts[i-1]
		l := math.Hypot(a.X-z.X, a.Y-z.Y)
		if l < 1e-6 {
			continue
		}
		dx, dy := (a.Y-z.Y)/l*width/2, -(a.X-z.X)/l*width/2
		p.add([]Point{{z.X + dx, z.Y + dy}, {a.X + dx, a.Y + dy}, {a.X - dx, a.Y - dy}, {z.X - dx, z.Y - dy}})
	}
	p.flush(image.NewUniform(c))
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
		p.stroke([]Point{at(d), at(d + on)}, width, c)
	}
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
