package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Foot is a tappable pair of lines for the foot of a Rail: a small word and
// below it, larger, what it is about.
type Foot struct {
	pressable
	small, text string
}

// NewFoot makes a foot.
func NewFoot(small, text string, tapped func()) *Foot {
	f := &Foot{small: small, text: text}
	f.act, f.self = tapped, f
	f.ExtendBaseWidget(f)
	return f
}

// SetText changes both lines.
func (f *Foot) SetText(small, text string) {
	f.small, f.text = small, text
	f.Refresh()
}

// AccessibilityLabel is both lines.
func (f *Foot) AccessibilityLabel() string { return f.small + ": " + f.text }

// CreateRenderer is called by Fyne.
func (f *Foot) CreateRenderer() fyne.WidgetRenderer {
	watch(f, func() string { return f.small })
	r := &footRenderer{f: f, ground: canvas.NewRectangle(Ink), ring: canvas.NewRectangle(Amber)}
	r.text.bold = true
	r.Refresh()
	return r
}

type footRenderer struct {
	f            *Foot
	ground, ring *canvas.Rectangle
	small, text  block
}

const footLeft = 28

func (r *footRenderer) MinSize() fyne.Size {
	return fyne.NewSize(grow(100), max(grow(58), lineHeight(12.5*scale(), false)+lineHeight(17*scale(), true)+12))
}

func (r *footRenderer) Layout(size fyne.Size) {
	ringed(r.ring, r.ground, size)
	room := max(10, size.Width-footLeft-6)
	r.small.size = 12.5 * scale()
	for _, part := range []float32{1, 0.9, 0.8} {
		if r.text.size = 17 * scale() * part; textWidth(r.f.text, r.text.size, true) <= room {
			break
		}
	}
	r.small.set([]string{shorten(r.f.small, r.small.size, false, room)})
	r.text.set([]string{shorten(r.f.text, r.text.size, true, room)})
	y := (size.Height - r.small.height() - r.text.height()) / 2
	r.small.place(footLeft, y, room)
	r.text.place(footLeft, y+r.small.height(), room)
}

func (r *footRenderer) Refresh() {
	r.small.color, r.text.color = railSoft, Paper
	r.ground.FillColor = r.f.shade(Ink)
	r.ring.FillColor = Amber
	r.ring.Hidden = !r.f.focused
	r.ground.Refresh()
	r.ring.Refresh()
	r.Layout(r.f.Size())
}

func (r *footRenderer) Objects() []fyne.CanvasObject {
	o := append([]fyne.CanvasObject{r.ring, r.ground}, r.small.objects()...)
	return append(o, r.text.objects()...)
}

func (r *footRenderer) Destroy() {}
