package widgets

import "fyne.io/fyne/v2"

// NewFlow puts objects in columns of equal width, as many as fit when each is
// at least least wide; the rest goes into further rows.
func NewFlow(least float32, objs ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &flowLayout{least: least}, Objects: objs}
}

type flowLayout struct {
	least float32
	most  float32 // with most > 0 a column is at most that much wider than asked
	last  float32
}

// wisher is a widget that can be narrower than it would like to be.
type wisher interface{ wish() float32 }

func (l *flowLayout) grid(objs []fyne.CanvasObject, width float32) (columns int, cell float32) {
	want := l.least
	for _, o := range objs {
		if w, ok := o.(wisher); ok {
			want = max(want, w.wish())
		} else {
			want = max(want, o.MinSize().Width)
		}
	}
	want = max(1, want)
	columns = clamp(int((width+gap)/(want+gap)), 1, max(1, len(objs)))
	cell = (width - gap*float32(columns-1)) / float32(columns)
	if l.most > 0 {
		cell = min(cell, want*l.most)
	}
	return columns, max(1, cell)
}

// rows gives every object a cell width and calls f with its place; it returns
// the height of it all.
func (l *flowLayout) rows(objs []fyne.CanvasObject, width float32, f func(o fyne.CanvasObject, x, y, w, h float32)) float32 {
	columns, cell := l.grid(objs, width)
	y := float32(0)
	for at := 0; at < len(objs); at += columns {
		row := objs[at:min(at+columns, len(objs))]
		h := float32(0)
		for _, o := range row {
			if f != nil {
				h = max(h, heightAt(o, cell))
			} else {
				h = max(h, o.MinSize().Height)
			}
		}
		if f != nil {
			for i, o := range row {
				f(o, float32(i)*(cell+gap), y, cell, h)
			}
		}
		y += h + gap
	}
	return max(0, y-gap)
}

func (l *flowLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	l.rows(visible(objs), size.Width, put)
}

func (l *flowLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	objs = visible(objs)
	var s fyne.Size
	for _, o := range objs {
		s.Width = max(s.Width, o.MinSize().Width)
	}
	width := l.last
	if width <= 0 {
		width = 1e5
	}
	s.Height = l.rows(objs, width, nil)
	return s
}
