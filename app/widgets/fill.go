package widgets

import "fyne.io/fyne/v2"

// heightAt gives an object a width and asks how tall it then wants to be.
// Wrapped text answers correctly only in this order.
func heightAt(o fyne.CanvasObject, width float32) float32 {
	if o.Size().Width != width {
		o.Resize(fyne.NewSize(width, max(1, o.Size().Height)))
	}
	return o.MinSize().Height
}

func visible(objs []fyne.CanvasObject) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, o := range objs {
		if o.Visible() {
			out = append(out, o)
		}
	}
	return out
}

func put(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(max(0, w), max(0, h)))
}

// NewColumn puts objects one below the other, 10 apart, each as wide as the
// column and as tall as it wants to be at that width.
func NewColumn(objs ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &columnLayout{}, Objects: objs}
}

type columnLayout struct{}

func (l *columnLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range visible(objs) {
		h := heightAt(o, size.Width)
		put(o, 0, y, size.Width, h)
		y += h + gap
	}
}

func (l *columnLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for i, o := range visible(objs) {
		m := o.MinSize()
		s.Width = max(s.Width, m.Width)
		s.Height += m.Height
		if i > 0 {
			s.Height += gap
		}
	}
	return s
}

// NewSplit puts two objects side by side, the left one taking the part ratio
// of the width; below the width narrow, which grows with the size of the
// text, they stand one above the other.
func NewSplit(left, right fyne.CanvasObject, ratio, narrow float32) *fyne.Container {
	if !(ratio > 0 && ratio < 1) {
		ratio = 0.5
	}
	return &fyne.Container{
		Layout:  &splitLayout{ratio: ratio, narrow: narrow},
		Objects: []fyne.CanvasObject{left, right},
	}
}

type splitLayout struct {
	ratio, narrow, last float32
}

func (l *splitLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	objs = visible(objs)
	if len(objs) < 2 || l.stacked() {
		y := float32(0)
		for i, o := range objs {
			h := heightAt(o, size.Width)
			if i == len(objs)-1 {
				h = max(h, size.Height-y)
			}
			put(o, 0, y, size.Width, h)
			y += h + gap
		}
		return
	}
	room := size.Width - 2*gap
	w := clamp(room*l.ratio, objs[0].MinSize().Width, max(objs[0].MinSize().Width, room-objs[1].MinSize().Width))
	put(objs[0], 0, 0, w, size.Height)
	put(objs[1], w+2*gap, 0, room-w, size.Height)
}

func (l *splitLayout) stacked() bool { return l.last > 0 && l.last < grow(l.narrow) }

func (l *splitLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for i, o := range visible(objs) {
		m := o.MinSize()
		s.Width = max(s.Width, m.Width)
		if !l.stacked() {
			s.Height = max(s.Height, m.Height)
			continue
		}
		s.Height += m.Height
		if i > 0 {
			s.Height += gap
		}
	}
	return s
}
