package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// frame is a rounded box with a border, and a focus ring around it. While
// focused, the box shrinks to leave room for the ring and a light gap, so the
// outer size is constant. It is made of filled boxes one on the other, which
// are exact to the pixel, rather than of strokes, which reach over the edge.
type frame struct {
	ring, gap, border, box *canvas.Rectangle
	wide                   float32
}

func newFrame() *frame {
	return &frame{
		ring: canvas.NewRectangle(Ink), gap: canvas.NewRectangle(White),
		border: canvas.NewRectangle(clear), box: canvas.NewRectangle(White),
	}
}

// paint sets the colours; the border is wide units wide.
func (f *frame) paint(fill, border color.Color, wide float32, focused bool) {
	f.wide = wide
	f.ring.FillColor, f.gap.FillColor = Ink, White
	f.border.FillColor, f.box.FillColor = border, fill
	f.ring.Hidden, f.gap.Hidden = !focused, !focused
	f.border.Hidden = wide <= 0
}

func (f *frame) layout(size fyne.Size) {
	in := float32(0)
	if !f.ring.Hidden {
		in = ringRoom
	}
	round := func(r *canvas.Rectangle, by, corner float32) {
		r.CornerRadius = max(0, corner)
		put(r, by, by, size.Width-2*by, size.Height-2*by)
		r.Refresh()
	}
	round(f.ring, 0, radius+ringWide)
	round(f.gap, ringWide, radius+1)
	round(f.border, in, radius)
	round(f.box, in+f.wide, radius-f.wide)
}

func (f *frame) objects(more ...fyne.CanvasObject) []fyne.CanvasObject {
	return append([]fyne.CanvasObject{f.ring, f.gap, f.border, f.box}, more...)
}
