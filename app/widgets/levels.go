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

// rowLayout shares the width equally, with half a gap between.
type rowLayout struct{}

func (rowLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	n := float32(len(objs))
	w := (size.Width - (n-1)*gap/2) / n
	for i, o := range objs {
		put(o, float32(i)*(w+gap/2), 0, w, size.Height)
	}
}

func (rowLayout) MinSize(objs []fyne.CanvasObject) (s fyne.Size) {
	for _, o := range objs {
		m := o.MinSize()
		s.Height = max(s.Height, m.Height)
		s.Width += touch() + gap/2
	}
	return s
}
