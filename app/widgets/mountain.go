package widgets

import (
	"image/color"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Spot is a place on a mountain: its name, how high it lies, and its sign.
type Spot struct {
	Name   string
	Height float64
	Shape  Shape
	Color  color.Color
}

// Mountain shows places by their height, since that is what differs: a slope with a sign at each. A tap on a sign opens its place; the keyboard goes by the rows beside it.
type Mountain struct {
	pressable
	spots []Spot
	unit  string
	open  func(int)
}

// NewMountain makes one; open is told which of the spots was touched.
func NewMountain(spots []Spot, unit string, open func(int)) *Mountain {
	m := &Mountain{spots: spots, unit: unit, open: open}
	m.self = m
	m.ExtendBaseWidget(m)
	return m
}

// AccessibilityLabel reads the names from below.
func (m *Mountain) AccessibilityLabel() string {
	out := ""
	for _, i := range m.order() {
		out += m.spots[i].Name + " " + strconv.Itoa(int(m.spots[i].Height)) + " " + m.unit + ". "
	}
	return out
}

// order are the spots from the lowest up.
func (m *Mountain) order() []int {
	var out []int
	for i := range m.spots {
		out = append(out, i)
	}
	slices.SortStableFunc(out, func(a, b int) int {
		switch d := m.spots[a].Height - m.spots[b].Height; {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	return out
}

// Layout of the drawing, in units.
const (
	mountainTop  = 30 // room above the highest
	mountainFoot = 34 // and below the lowest
	spotSize     = 24
)

// top and foot of the scale: whole thousands of metres around the spots.
func (m *Mountain) scale() (low, high float64) {
	low, high = 0, 1000
	for _, s := range m.spots {
		high = max(high, s.Height)
		low = min(low, s.Height)
	}
	return low, high * 1.04
}

// place is where a spot lies: by rank from left to right, by height upward.
func (m *Mountain) place(rank int, s Spot, w, h float64) Point {
	low, high := m.scale()
	x := w * (0.08 + 0.8*(float64(rank)+0.5)/max(1, float64(len(m.spots))))
	return Point{X: x, Y: h - mountainFoot - (s.Height-low)/(high-low)*(h-mountainFoot-mountainTop)}
}

// Tapped opens the nearest sign, within a finger's reach.
func (m *Mountain) Tapped(e *fyne.PointEvent) {
	size := m.Size()
	best, near := -1, float64(44*44)
	for rank, i := range m.order() {
		p := m.place(rank, m.spots[i], float64(size.Width), float64(size.Height))
		dx, dy := p.X-float64(e.Position.X), p.Y-float64(e.Position.Y)
		if d := dx*dx + dy*dy; d < near {
			best, near = i, d
		}
	}
	if best >= 0 && m.open != nil {
		m.open(best)
	}
}

// CreateRenderer is called by Fyne.
func (m *Mountain) CreateRenderer() fyne.WidgetRenderer {
	r := &mountainRenderer{m: m}
	r.face = drawing(r.paint)
	for range m.spots {
		t := canvas.NewText("", Ink)
		t.TextStyle.Bold = true
		r.names = append(r.names, t)
	}
	for range 4 {
		r.ticks = append(r.ticks, canvas.NewText("", InkSoft))
	}
	return r
}

type mountainRenderer struct {
	m     *Mountain
	face  *canvas.Raster
	names []*canvas.Text
	ticks []*canvas.Text
}

func (r *mountainRenderer) MinSize() fyne.Size { return fyne.NewSize(grow(250), grow(330)) }

// paint draws the card, lines of height, the slope and the signs.
func (r *mountainRenderer) paint(p *pen, w, h float64) {
	p.fill([]Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, Line)
	p.fill([]Point{{2, 2}, {w - 2, 2}, {w - 2, h - 2}, {2, h - 2}}, White)
	var slope []Point
	slope = append(slope, Point{2, h - 2}, Point{2, h - mountainFoot + 8})
	order := r.m.order()
	for rank, i := range order {
		at := r.m.place(rank, r.m.spots[i], w, h)
		slope = append(slope, Point{at.X - w*0.03, at.Y + 16}, Point{at.X, at.Y + 2}, Point{at.X + w*0.025, at.Y + 14})
	}
	slope = append(slope, Point{w - 2, h * 0.42}, Point{w - 2, h - 2})
	p.fill(slope, color.NRGBA{0xEF, 0xE6, 0xD8, 0xFF})
	for rank, i := range order {
		s := r.m.spots[i]
		at := r.m.place(rank, s, w, h)
		paintShapeAt(p, s.Shape, s.Color, at, float64(grow(spotSize)))
	}
}

func (r *mountainRenderer) Layout(size fyne.Size) {
	put(r.face, 0, 0, size.Width, size.Height)
	w, h := float64(size.Width), float64(size.Height)
	for rank, i := range r.m.order() {
		s, t := r.m.spots[i], r.names[i]
		at := r.m.place(rank, s, w, h)
		t.Text, t.TextSize = s.Name, 14*scale()
		wide := textWidth(t.Text, t.TextSize, true)
		x := float32(at.X) + grow(spotSize)/2 + 6
		if x+wide > size.Width-6 || rank*2 >= len(r.m.spots) { // the higher half stands left of its sign, over the slope
			x = float32(at.X) - grow(spotSize)/2 - 6 - wide
		}
		high := t.MinSize().Height
		put(t, max(4, x), float32(at.Y)-high/2, wide, high)
		t.Refresh()
	}
	low, top := r.m.scale()
	for i, t := range r.ticks {
		v := float64(int(low/500+0.5)*500) + float64(i)*float64(int((top-low)/1500+0.5)*500)
		t.Text, t.TextSize = "", 12*scale()
		if y := h - mountainFoot - (v-low)/(top-low)*(h-mountainFoot-mountainTop); v < top && y > 12 {
			t.Text = strconv.Itoa(int(v)) + " " + r.m.unit
			wide := textWidth(t.Text, t.TextSize, false)
			put(t, size.Width-wide-8, float32(y)-9, wide, t.MinSize().Height)
		}
		t.Refresh()
	}
}

func (r *mountainRenderer) Refresh() {
	r.face.Refresh()
	r.Layout(r.m.Size())
}

func (r *mountainRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.face}
	for _, t := range r.ticks {
		out = append(out, t)
	}
	for _, t := range r.names {
		out = append(out, t)
	}
	return out
}

func (r *mountainRenderer) Destroy() {}
