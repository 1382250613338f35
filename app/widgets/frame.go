package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// frame is a rounded box with a focus ring around it. While focused, the box
// shrinks to leave room for a gap and the ring, so the outer size is constant.
type frame struct {
	box, ring *canvas.Rectangle
}

func newFrame() frame {
	f := frame{box: canvas.NewRectangle(White), ring: canvas.NewRectangle(clear)}
	f.box.CornerRadius = radius
	f.ring.CornerRadius = radius + 2
	f.ring.StrokeWidth = ringWide
	f.ring.StrokeColor = Ink
	f.ring.Hide()
	return f
}

func (f frame) paint(fill, border color.Color, wide float32, focused bool) {
	f.box.FillColor, f.box.StrokeColor, f.box.StrokeWidth = fill, border, wide
	if focused {
		f.ring.Show()
	} else {
		f.ring.Hide()
	}
}

func (f frame) layout(size fyne.Size) {
	f.ring.Move(fyne.NewPos(0, 0))
	f.ring.Resize(size)
	in := float32(0)
	if f.ring.Visible() {
		in = ringRoom
	}
	f.box.Move(fyne.NewPos(in, in))
	f.box.Resize(fyne.NewSize(max(0, size.Width-2*in), max(0, size.Height-2*in)))
	f.box.Refresh()
	f.ring.Refresh()
}
