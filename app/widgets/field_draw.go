package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// CreateRenderer is called by Fyne.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	watch(f, func() string { return f.label })
	r := &fieldRenderer{f: f, frame: newFrame()}
	r.label.bold, r.fault.bold = true, true
	r.sign = drawing(func(p *pen, w, h float64) { paintShape(p, Cross, Vermilion, w, h) })
	r.Refresh()
	return r
}

type fieldRenderer struct {
	f            *Field
	frame        *frame
	label, fault block
	sign         *canvas.Raster
}

func (r *fieldRenderer) signSize() float32 { return 14 * scale() }

func (r *fieldRenderer) fill(width float32) {
	r.label.size, r.fault.size = 15*scale(), 14.5*scale()
	r.label.color, r.fault.color = Ink, Vermilion
	var label, fault []string
	if r.f.label != "" {
		label = wrap(r.f.label, r.label.size, true, max(20, width), 2)
	}
	if r.f.fault != "" {
		fault = wrap(r.f.fault, r.fault.size, true, max(20, width-r.signSize()-8), 3)
	}
	r.label.set(label)
	r.fault.set(fault)
	r.sign.Hidden = r.fault.shown == 0
}

func (r *fieldRenderer) below() float32 {
	if r.fault.shown == 0 {
		return 0
	}
	return r.fault.height() + 4
}

func (r *fieldRenderer) above() float32 {
	if r.label.shown == 0 {
		return 0
	}
	return r.label.height() + 4
}

const entryBorder = 4

func (r *fieldRenderer) entryHigh() float32 {
	return max(touch(), r.f.large.MinSize().Height+2*entryBorder)
}

func (r *fieldRenderer) MinSize() fyne.Size {
	width := r.f.Size().Width
	if width <= 0 {
		width = grow(320)
	}
	r.fill(width)
	return fyne.NewSize(grow(140), r.above()+r.entryHigh()+r.below())
}

func (r *fieldRenderer) Layout(size fyne.Size) {
	r.fill(size.Width)
	r.label.place(0, 0, size.Width)
	y, s := r.above(), r.signSize()
	r.border(y, size.Width)
	put(r.f.large, entryBorder, y+entryBorder, size.Width-2*entryBorder, r.entryHigh()-2*entryBorder)
	y += r.entryHigh() + 4
	put(r.sign, 0, y+(lineHeight(r.fault.size, true)-s)/2, s, s)
	r.fault.place(s+8, y, max(20, size.Width-s-8))
}

// border is thick while the field has the focus and the text stays in place.
func (r *fieldRenderer) border(y, width float32) {
	line, fill, wide := Ink, White, float32(2)
	switch {
	case r.f.Disabled():
		line, fill = Line, disabledGround
	case r.f.Entry.focused:
		line, wide = Blue, 4
	case r.f.fault != "":
		line, wide = Vermilion, 3
	}
	r.frame.paint(fill, line, wide, false)
	r.frame.layout(fyne.NewSize(width, r.entryHigh()))
	for _, o := range r.frame.objects() {
		o.Move(o.Position().AddXY(0, y))
	}
}

func (r *fieldRenderer) Refresh() {
	r.Layout(r.f.Size())
	r.f.large.Refresh()
	r.sign.Refresh()
}

func (r *fieldRenderer) Objects() []fyne.CanvasObject {
	o := append(r.frame.objects(r.f.large, r.sign), r.label.objects()...)
	return append(o, r.fault.objects()...)
}

func (r *fieldRenderer) Destroy() {}
