package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// padKey is one key of a NumPad. It cannot be focused: the pad as a whole
// takes the keyboard.
type padKey struct {
	widget.BaseWidget
	text    string // empty: the sign for taking back
	solid   bool
	tapped  func()
	pressed bool
}

func newPadKey(text string, solid bool, tapped func()) *padKey {
	k := &padKey{text: text, solid: solid, tapped: tapped}
	k.ExtendBaseWidget(k)
	return k
}

// Tapped acts.
func (k *padKey) Tapped(*fyne.PointEvent) { k.tapped() }

// MouseDown shows that the key is pressed.
func (k *padKey) MouseDown(*desktop.MouseEvent) { k.pressed = true; k.Refresh() }

// MouseUp undoes MouseDown.
func (k *padKey) MouseUp(*desktop.MouseEvent) { k.pressed = false; k.Refresh() }

// AccessibilityLabel is the text on the key.
func (k *padKey) AccessibilityLabel() string { return k.text }

// AccessibilityRole is button.
func (k *padKey) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// CreateRenderer is called by Fyne.
func (k *padKey) CreateRenderer() fyne.WidgetRenderer {
	watch(k, func() string { return k.text })
	r := &padKeyRenderer{k: k, frame: newFrame()}
	r.text = block{bold: true, align: fyne.TextAlignCenter}
	r.sign = drawing(func(p *pen, w, h float64) {
		if k.text == "" {
			paintBack(p, w, h)
		}
	})
	r.Refresh()
	return r
}

type padKeyRenderer struct {
	k     *padKey
	frame *frame
	text  block
	sign  *canvas.Raster
}

func (r *padKeyRenderer) MinSize() fyne.Size {
	w := min(textWidth(r.k.text, 20*scale(), true)+16, grow(140))
	return fyne.NewSize(max(touch(), w), touch())
}

func (r *padKeyRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	put(r.sign, size.Width/2-18, size.Height/2-14, 36, 28)
	r.text.size = 22 * scale()
	if len(r.k.text) > 1 {
		r.text.size = 19 * scale()
	}
	r.text.set(wrap(r.k.text, r.text.size, true, max(10, size.Width-10), 2))
	r.text.place(0, (size.Height-r.text.height())/2, size.Width)
}

func (r *padKeyRenderer) Refresh() {
	fill, border, text := White, Ink, Ink
	if r.k.solid {
		fill, border, text = Blue, Blue, White
	}
	if r.k.pressed {
		fill = blend(fill, Ink, 0.25)
	}
	r.text.color = text
	r.frame.paint(fill, border, 2, false)
	r.sign.Refresh()
	r.Layout(r.k.Size())
}

func (r *padKeyRenderer) Objects() []fyne.CanvasObject {
	return append(r.frame.objects(r.sign), r.text.objects()...)
}

func (r *padKeyRenderer) Destroy() {}

// paintBack draws an arrow to the left.
func paintBack(p *pen, w, h float64) {
	y := h / 2
	p.stroke([]Point{{w * 0.14, y}, {w * 0.88, y}}, 4, Ink)
	p.stroke([]Point{{w * 0.40, y - h*0.32}, {w * 0.14, y}, {w * 0.40, y + h*0.32}}, 4, Ink)
}
