package widgets

import (
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
	tall float32
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

// SetTall sets the height the curve asks for; at first it is 110.
func (c *Curve) SetTall(height float32) {
	c.tall = clamp(height, 110, 400)
	c.Refresh()
}

// CreateRenderer is called by Fyne.
func (c *Curve) CreateRenderer() fyne.WidgetRenderer {
	r := &curveRenderer{c: c, frame: newFrame()}
	r.frame.paint(White, Line, 2, false)
	r.face = drawing(func(p *pen, w, h float64) { paintCurve(p, c.spec, newAxes(c.spec, w, h)) })
	r.Refresh()
	return r
}

type curveRenderer struct {
	c     *Curve
	frame *frame
	face  *canvas.Raster
	words []*canvas.Text
}

func (r *curveRenderer) MinSize() fyne.Size {
	return fyne.NewSize(300, max(110, r.c.tall))
}

func (r *curveRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	put(r.face, 0, 0, size.Width, size.Height)
	r.label(size)
}

func (r *curveRenderer) Refresh() {
	r.Layout(r.c.Size())
	r.face.Refresh()
}

func (r *curveRenderer) Objects() []fyne.CanvasObject {
	o := r.frame.objects(r.face)
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

// Point is a place on a curve, or on a drawing.
type Point struct{ X, Y float64 }
