package widgets

import "fyne.io/fyne/v2"

// Levels is a row of places of something that is set by hand, a flap or a valve: one is always set. All stand in one row,
// however narrow it is.
type Levels struct {
	Box     *fyne.Container // what is shown
	buttons []*Button
	changed func(int)
	At      int
}

// NewLevels makes the row; changed is called when another place is tapped.
func NewLevels(places []string, at int, changed func(int)) *Levels {
	l := &Levels{changed: changed, At: at, Box: &fyne.Container{Layout: rowLayout{}}}
	for i, text := range places {
		b := NewButton(text, Plain, func() { l.tap(i) })
		l.buttons = append(l.buttons, b)
		l.Box.Objects = append(l.Box.Objects, b)
	}
	l.Set(at)
	return l
}

func (l *Levels) tap(i int) {
	if l.Set(i); l.changed != nil {
		l.changed(i)
	}
}

// Set shows another place as set, without calling changed.
func (l *Levels) Set(i int) {
	l.At = i
	for n, b := range l.buttons {
		look := Plain
		if n == i {
			look = Do
		}
		b.SetLook(look)
	}
}

// Follow shows where something stands that another hand may have moved: the place whose value is nearest.
func (l *Levels) Follow(value float64, values []float64) {
	best := 0
	for i, v := range values {
		if abs(v-value) < abs(values[best]-value) {
			best = i
		}
	}
	if best != l.At {
		l.Set(best)
	}
}

func abs(v float64) float64 { return max(v, -v) }

// rowLayout gives each what its text needs and shares the rest, with half a gap between.
type rowLayout struct{}

func (rowLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	wish := func(o fyne.CanvasObject) float32 { return o.MinSize().Width }
	free := size.Width - float32(len(objs)-1)*gap/2
	for _, o := range objs {
		free -= wish(o)
	}
	x := float32(0)
	for _, o := range objs {
		w := wish(o) + free/float32(len(objs))
		put(o, x, 0, w, size.Height)
		x += w + gap/2
	}
}

func (rowLayout) MinSize(objs []fyne.CanvasObject) (s fyne.Size) {
	for _, o := range objs {
		s.Height = max(s.Height, o.MinSize().Height)
		s.Width += touch() + gap/2
	}
	return s
}
