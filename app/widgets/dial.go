package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Dial shows a round scale with a needle, and takes a reading when the scale
// is tapped where the needle stands.
type Dial struct {
	widget.BaseWidget
	// Moved, if set, is told of every change of the needle a person makes,
	// also before it is confirmed.
	Moved   func(value float64)
	spec    DialSpec
	tapped  func(value float64)
	focused bool
	drag    bool
	latch   pressable // so that holding Enter confirms once
	least   float32
}

var (
	_ fyne.Tappable  = (*Dial)(nil)
	_ fyne.Draggable = (*Dial)(nil)
	_ fyne.Focusable = (*Dial)(nil)
)

// NewDial makes a dial. tapped gets the value of a tap, of the end of a drag,
// or of the needle when Enter confirms it.
func NewDial(spec DialSpec, tapped func(value float64)) *Dial {
	d := &Dial{spec: spec.safe(), tapped: tapped}
	d.latch.act = d.confirm
	d.ExtendBaseWidget(d)
	return d
}

// SetLeast sets the smallest width and height of the dial; at first it is 200.
func (d *Dial) SetLeast(side float32) {
	d.least = clamp(side, 100, 500)
	d.Refresh()
}

// SetSpec changes the whole dial.
func (d *Dial) SetSpec(spec DialSpec) {
	d.spec = spec.safe()
	d.Refresh()
}

// Needle is where the needle stands; NaN when there is none.
func (d *Dial) Needle() float64 { return d.spec.Needle }

func (d *Dial) set(v float64) {
	d.spec.Needle = d.spec.snap(v)
	d.Refresh()
	if d.Moved != nil {
		d.Moved(d.spec.Needle)
	}
}

func (d *Dial) confirm() {
	if d.tapped != nil && finite(d.spec.Needle) {
		d.tapped(d.spec.Needle)
	}
}

// at is the value at a place; not ok too near the hub or in the corners.
func (d *Dial) at(pos fyne.Position) (v float64, ok bool) {
	mid, r := dialCircle(d.Size())
	x, y := float64(pos.X)-mid.X, float64(pos.Y)-mid.Y
	far := math.Hypot(x, y)
	if r <= 0 || !finite(far) || far < r*0.12 {
		return 0, false
	}
	angle := math.Atan2(x, -y) * 180 / math.Pi
	return DialValue(angle, d.spec.Start, d.spec.Span), d.drag || far < r*1.18
}

// Tapped moves the needle to the place and confirms it.
func (d *Dial) Tapped(e *fyne.PointEvent) {
	if d.tapped == nil {
		return
	}
	focusOn(d)
	if v, ok := d.at(e.Position); ok {
		d.set(v)
		d.confirm()
	}
}

// Dragged moves the needle along.
func (d *Dial) Dragged(e *fyne.DragEvent) {
	if d.tapped == nil {
		return
	}
	v, ok := d.at(e.Position)
	if !ok {
		return
	}
	// Crossing the open part at the bottom must not throw the needle over.
	if d.drag && math.Abs(v-d.spec.Needle) > (d.spec.Span-d.spec.Start)/2 {
		return
	}
	d.drag = true
	d.set(v)
}

// DragEnd confirms where the needle was dragged to.
func (d *Dial) DragEnd() {
	if d.drag {
		d.drag = false
		d.confirm()
	}
}

// FocusGained shows the focus ring.
func (d *Dial) FocusGained() {
	d.focused = true
	reveal(d)
	d.Refresh()
}

// FocusLost hides the focus ring.
func (d *Dial) FocusLost() {
	d.focused, d.latch.down, d.latch.spent = false, false, false
	d.Refresh()
}

// KeyDown notes that a key is held.
func (d *Dial) KeyDown(e *fyne.KeyEvent) { d.latch.KeyDown(e) }

// KeyUp ends what KeyDown began.
func (d *Dial) KeyUp(e *fyne.KeyEvent) { d.latch.KeyUp(e) }

// TypedRune does nothing.
func (d *Dial) TypedRune(rune) {}

// TypedKey moves the needle by half a line, or confirms it.
func (d *Dial) TypedKey(e *fyne.KeyEvent) {
	if d.tapped == nil {
		return
	}
	by := 0.0
	switch e.Name {
	case fyne.KeyUp, fyne.KeyRight:
		by = 0.5
	case fyne.KeyDown, fyne.KeyLeft:
		by = -0.5
	case fyne.KeyPageUp:
		by = 5
	case fyne.KeyPageDown:
		by = -5
	case fyne.KeyReturn, fyne.KeyEnter:
		d.latch.TypedKey(e)
		return
	default:
		return
	}
	from := d.spec.Needle
	if !finite(from) {
		from, by = d.spec.Start, max(0, by)
	}
	d.set(clamp(from, d.spec.Start, d.spec.Span) + by*d.spec.Line)
}

// dialCircle is the middle and radius of the rim for a size.
func dialCircle(size fyne.Size) (mid Point, r float64) {
	w, h := float64(size.Width), float64(size.Height)
	return Point{w / 2, h / 2}, max(0, min(w, h)/2-14)
}
