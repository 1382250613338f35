package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// RailItem is one place to go to, in a Rail or a Bar.
type RailItem struct {
	Text   string
	Tapped func()
}

// railItem is a RailItem on the dark ground of a Rail or, lying, of a Bar.
type railItem struct {
	pressable
	text  string
	on    bool
	lying bool
}

func newRailItem(text string, lying bool, tapped func()) *railItem {
	t := &railItem{text: text, lying: lying}
	t.act, t.self = tapped, t
	t.ExtendBaseWidget(t)
	return t
}

// AccessibilityLabel is the text of the item.
func (t *railItem) AccessibilityLabel() string { return t.text }

// CreateRenderer is called by Fyne.
func (t *railItem) CreateRenderer() fyne.WidgetRenderer {
	watch(t, func() string { return t.text })
	r := &railItemRenderer{t: t}
	r.ground, r.bar, r.ring = canvas.NewRectangle(Ink), canvas.NewRectangle(Amber), canvas.NewRectangle(Amber)
	r.Refresh()
	return r
}

type railItemRenderer struct {
	t                 *railItem
	ground, bar, ring *canvas.Rectangle
	text              block
}

func (r *railItemRenderer) MinSize() fyne.Size {
	return fyne.NewSize(touchMin, grow(58))
}

func (r *railItemRenderer) Layout(size fyne.Size) {
	ringed(r.ring, r.ground, size)
	left, room, font := float32(28), size.Width-28-6, 18*scale()
	r.text.align = fyne.TextAlignLeading
	if r.t.lying {
		put(r.bar, 0, 0, size.Width, 6)
		left, room, font = 4, size.Width-8, 16*scale()
		r.text.align = fyne.TextAlignCenter
	} else {
		put(r.bar, 0, 0, 8, size.Height)
	}
	r.text.bold = r.t.on
	// The bold face decides, so that the text keeps its size when selected.
	for _, part := range []float32{1, 0.9, 0.8, 0.72} {
		r.text.size = font * part
		if longestWord(r.t.text, r.text.size, true) <= room {
			break
		}
	}
	r.text.set(wrap(r.t.text, r.text.size, r.text.bold, max(10, room), 2))
	r.text.place(left, (size.Height-r.text.height())/2, room)
}

func (r *railItemRenderer) Refresh() {
	r.text.color = railText
	r.ring.FillColor = Amber
	r.ground.FillColor = r.t.shade(Ink)
	if r.t.on {
		r.ground.FillColor, r.text.color, r.ring.FillColor = r.t.shade(Paper), Ink, Blue
	}
	r.bar.Hidden = !r.t.on
	r.ring.Hidden = !r.t.focused
	r.ground.Refresh()
	r.bar.Refresh()
	r.ring.Refresh()
	r.Layout(r.t.Size())
}

func (r *railItemRenderer) Objects() []fyne.CanvasObject {
	return append([]fyne.CanvasObject{r.ring, r.ground, r.bar}, r.text.objects()...)
}

func (r *railItemRenderer) Destroy() {}

// ringed puts a ground over a ring so that only the edge of the ring is seen.
func ringed(ring, ground *canvas.Rectangle, size fyne.Size) {
	in := float32(0)
	if !ring.Hidden {
		in = ringWide
	}
	put(ring, 0, 0, size.Width, size.Height)
	put(ground, in, in, size.Width-2*in, size.Height-2*in)
}

// selectItem marks the item numbered i and no other.
func selectItem(items []*railItem, i int) {
	for n, t := range items {
		if t.on != (n == i) {
			t.on = n == i
			t.Refresh()
		}
	}
}
