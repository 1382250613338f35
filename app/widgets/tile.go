package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// tile is one option of a Choice.
type tile struct {
	pressable
	text string
	on   bool
}

func newTile(text string, tapped func()) *tile {
	t := &tile{text: text}
	t.act, t.self = tapped, t
	t.ExtendBaseWidget(t)
	return t
}

// AccessibilityLabel is the text of the option.
func (t *tile) AccessibilityLabel() string { return t.text }

// wish is the width the tile would like: its text on one line, within reason.
func (t *tile) wish() float32 {
	text := textWidth(t.text, 17*scale(), true)
	return ringRoom + 8 + grow(20) + 10 + min(text, grow(150)) + ringRoom + 8
}

// CreateRenderer is called by Fyne.
func (t *tile) CreateRenderer() fyne.WidgetRenderer {
	watch(t, func() string { return t.text })
	r := &tileRenderer{t: t, frame: newFrame()}
	r.mark = drawing(func(p *pen, w, h float64) {
		if t.on {
			paintShape(p, Check, White, w, h)
		} else {
			p.disc(Point{w / 2, h / 2}, w/2, Ink)
			p.disc(Point{w / 2, h / 2}, w/2-2, White)
		}
	})
	r.text.bold = true
	r.Refresh()
	return r
}

type tileRenderer struct {
	t     *tile
	frame *frame
	mark  *canvas.Raster
	text  block
}

func (r *tileRenderer) sizes() (font, mark, left float32) {
	font, mark = 17*scale(), grow(20)
	return font, mark, ringRoom + 8 + mark + 10
}

func (r *tileRenderer) MinSize() fyne.Size {
	font, _, left := r.sizes()
	w := left + min(textWidth(r.t.text, font, true), grow(110)) + ringRoom + 8
	return fyne.NewSize(w, max(touch(), r.heightFor(max(w, r.t.Size().Width))))
}

func (r *tileRenderer) heightFor(width float32) float32 {
	font, _, left := r.sizes()
	n := len(wrap(r.t.text, font, true, max(10, width-left-ringRoom-7), 3))
	return max(touch(), float32(n)*lineHeight(font, true)+16)
}

func (r *tileRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	font, mark, left := r.sizes()
	r.mark.Move(fyne.NewPos(ringRoom+8, (size.Height-mark)/2))
	r.mark.Resize(fyne.NewSquareSize(mark))
	r.text.size = font
	width := max(10, size.Width-left-ringRoom-7)
	r.text.set(wrap(r.t.text, font, true, width, 3))
	r.text.place(left, (size.Height-r.text.height())/2, width)
}

func (r *tileRenderer) Refresh() {
	fill, border, text := White, Ink, Ink
	if r.t.on {
		fill, border, text = Blue, Blue, White
	}
	if r.t.Disabled() {
		border, text = Line, InkSoft
		fill = disabledGround
	}
	r.text.color = text
	r.frame.paint(r.t.shade(fill), border, 2, r.t.focused)
	r.mark.Refresh()
	r.Layout(r.t.Size())
}

func (r *tileRenderer) Objects() []fyne.CanvasObject {
	return append(r.frame.objects(r.mark), r.text.objects()...)
}

func (r *tileRenderer) Destroy() {}
