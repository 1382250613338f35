package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// CurveSpec describes a Curve: how something should go and how it went.
type CurveSpec struct {
	// Ideal is drawn as a thick pale path, Real as a dark line with dots.
	Ideal, Real []Point
	// Level is a dashed line across; NaN for none.
	Level float64
	// Steps are words below the curve.
	Steps []StepMark
	// Bead is the point of Real that carries a bead, -1 for none.
	Bead int
	// Gaps are the parts of Real nobody saw: i is that from i to i+1.
	Gaps []int
}

// StepMark is a word below a curve, centred on At.
type StepMark struct {
	At   float64
	Text string
	// Now makes the word bold, and makes sure it is shown.
	Now bool
}

// Curve draws a CurveSpec in a white card. Its axes fit themselves.
type Curve struct {
	widget.BaseWidget
	spec CurveSpec
}

// NewCurve makes a curve.
func NewCurve(spec CurveSpec) *Curve {
	c := &Curve{spec: spec}
	c.ExtendBaseWidget(c)
	return c
}

// SetSpec changes the whole curve.
func (c *Curve) SetSpec(spec CurveSpec) {
	c.spec = spec
	c.Refresh()
}

// CreateRenderer is called by Fyne.
func (c *Curve) CreateRenderer() fyne.WidgetRenderer {
	r := &curveRenderer{c: c, box: canvas.NewRectangle(White)}
	r.box.CornerRadius = radius
	r.box.StrokeColor, r.box.StrokeWidth = Line, 1.5
	r.face = drawing(func(p *pen, w, h float64) { paintCurve(p, c.spec, newAxes(c.spec, w, h)) })
	r.Refresh()
	return r
}

type curveRenderer struct {
	c     *Curve
	box   *canvas.Rectangle
	face  *canvas.Raster
	words []*canvas.Text
}

func (r *curveRenderer) MinSize() fyne.Size {
	return fyne.NewSize(300, 110)
}

func (r *curveRenderer) Layout(size fyne.Size) {
	put(r.box, 0, 0, size.Width, size.Height)
	put(r.face, 0, 0, size.Width, size.Height)
	r.label(size)
}

func (r *curveRenderer) Refresh() {
	r.box.Refresh()
	r.Layout(r.c.Size())
	r.face.Refresh()
}

func (r *curveRenderer) Objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{r.box, r.face}
	for _, t := range r.words {
		o = append(o, t)
	}
	return o
}

func (r *curveRenderer) Destroy() {}

// label writes the steps that have room, the current one always.
func (r *curveRenderer) label(size fyne.Size) {
	ax := newAxes(r.c.spec, float64(size.Width), float64(size.Height))
	font := stepFont(size.Height)
	words := placeSteps(r.c.spec.Steps, font, size.Width, func(x float64) float32 { return float32(ax.x(x)) })
	for len(r.words) < len(words) {
		r.words = append(r.words, canvas.NewText("", Ink))
	}
	h := lineHeight(font, false)
	for i, t := range r.words {
		if i >= len(words) {
			t.Text = ""
			t.Hide()
			continue
		}
		w := words[i]
		t.Text, t.TextSize, t.TextStyle, t.Color = w.text, w.size, style(w.now), InkSoft
		if w.now {
			t.Color = Ink
		}
		t.Show()
		put(t, w.from, size.Height-h-5, w.to-w.from, h)
		t.Refresh()
	}
}

// stepFont keeps the words from taking the room of the curve.
func stepFont(height float32) float32 { return min(13.5*scale(), height*0.16) }

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
