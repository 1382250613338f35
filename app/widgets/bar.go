package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Bar is the dark row of places at the bottom of a narrow window.
type Bar struct {
	widget.BaseWidget
	items []*railItem
}

// NewBar makes a bar. A tap on an item selects it and calls its Tapped.
func NewBar(items []RailItem) *Bar {
	b := &Bar{}
	for i, it := range items {
		t := newRailItem(it.Text, true, func() {
			b.Select(i)
			if it.Tapped != nil {
				it.Tapped()
			}
		})
		t.move = func(by int) {
			if n := i + by; n >= 0 && n < len(b.items) {
				focusOn(b.items[n])
			}
		}
		b.items = append(b.items, t)
	}
	b.ExtendBaseWidget(b)
	return b
}

// Select shows the item numbered i as the current one; -1 for none.
func (b *Bar) Select(i int) { selectItem(b.items, i) }

// CreateRenderer is called by Fyne.
func (b *Bar) CreateRenderer() fyne.WidgetRenderer {
	return &barRenderer{b: b, ground: canvas.NewRectangle(Ink)}
}

type barRenderer struct {
	b      *Bar
	ground *canvas.Rectangle
}

// columns is how many items fit beside each other; the rows are kept even.
func (r *barRenderer) columns(width float32) int {
	n := max(1, len(r.b.items))
	fit := clamp(int(width/grow(78)), 1, n)
	rows := (n + fit - 1) / fit
	return (n + rows - 1) / rows
}

func (r *barRenderer) rows(width float32) int {
	if width <= 0 {
		return 1
	}
	c := r.columns(width)
	return (len(r.b.items) + c - 1) / c
}

func (r *barRenderer) MinSize() fyne.Size {
	return fyne.NewSize(grow(78)*float32(min(4, len(r.b.items))), float32(r.rows(r.b.Size().Width))*grow(58))
}

func (r *barRenderer) Layout(size fyne.Size) {
	put(r.ground, 0, 0, size.Width, size.Height)
	c := r.columns(size.Width)
	w, h := size.Width/float32(c), grow(58)
	for i, t := range r.b.items {
		put(t, float32(i%c)*w, float32(i/c)*h, w, h)
	}
}

func (r *barRenderer) Refresh() {
	r.Layout(r.b.Size())
	r.ground.Refresh()
	for _, t := range r.b.items {
		t.Refresh()
	}
}

func (r *barRenderer) Objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{r.ground}
	for _, t := range r.b.items {
		o = append(o, t)
	}
	return o
}

func (r *barRenderer) Destroy() {}
