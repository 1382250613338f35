package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Row is one line of a list of things to do: a shape, a small word in the
// colour of the shape, a sentence, and what a tap will do.
type Row struct {
	pressable
	shape             Shape
	color             color.Color
	tag, text, action string
}

// NewRow makes a row; the whole of it can be tapped. The colour should be one
// in which text can be read: Vermilion, Blue, Green, Ink or InkSoft.
func NewRow(shape Shape, c color.Color, tag, text, action string, tapped func()) *Row {
	r := &Row{shape: shape, color: c, tag: tag, text: text, action: action}
	r.act, r.self = tapped, r
	r.ExtendBaseWidget(r)
	return r
}

// Set changes all that the row shows, for use in a list.
func (w *Row) Set(shape Shape, c color.Color, tag, text, action string, tapped func()) {
	w.shape, w.color, w.tag, w.text, w.action = shape, c, tag, text, action
	w.act = tapped
	w.Refresh()
}

// AccessibilityLabel reads the row from left to right.
func (w *Row) AccessibilityLabel() string {
	return w.tag + ": " + w.text + ", " + w.action
}

// CreateRenderer is called by Fyne.
func (w *Row) CreateRenderer() fyne.WidgetRenderer {
	watch(w, func() string { return w.text })
	r := &rowRenderer{w: w, frame: newFrame()}
	r.sign = drawing(func(p *pen, wide, high float64) { paintShape(p, w.shape, w.color, wide, high) })
	r.tag.bold, r.text.bold, r.action.bold = true, true, true
	r.action.align = fyne.TextAlignTrailing
	r.Refresh()
	return r
}

type rowRenderer struct {
	w                 *Row
	frame             *frame
	sign              *canvas.Raster
	tag, text, action block
}

// rowLines is how many lines a sentence may take where there is room for it.
const rowLines = 4

// rowPlan is where the parts of a row go at a certain width.
type rowPlan struct {
	left, room float32 // of the text
	lines      []string
	act        string
	actWidth   float32
	below      bool // the action stands under the text
	height     float32
}

func (r *rowRenderer) plan(width float32, most int) rowPlan {
	s := scale()
	r.tag.size, r.text.size, r.action.size = 13*s, 17*s, 15*s
	p := rowPlan{left: 12 + grow(46) + 16}
	if r.w.action != "" {
		p.act = r.w.action + "  ›"
		p.actWidth = textWidth(p.act, r.action.size, true)
	}
	p.room = width - p.left - 16
	if p.actWidth > 0 {
		if side := p.room - p.actWidth - 20; side >= grow(230) || side >= textWidth(r.w.text, r.text.size, true) {
			p.room = side
		} else {
			p.below = true
		}
	}
	p.room = max(20, p.room)
	p.lines = wrap(r.w.text, r.text.size, true, p.room, most)
	p.height = r.tagHeight() + float32(len(p.lines))*lineHeight(r.text.size, true) + 20
	if p.below {
		p.height += lineHeight(r.action.size, true) + 2
	}
	p.height = max(grow(66), p.height)
	return p
}

func (r *rowRenderer) tagHeight() float32 {
	if r.w.tag == "" {
		return 0
	}
	return lineHeight(r.tag.size, true) - 1
}

func (r *rowRenderer) MinSize() fyne.Size {
	least := grow(260)
	width := r.w.Size().Width
	if width < least {
		width = grow(700)
	}
	return fyne.NewSize(least, r.plan(width, rowLines).height)
}

func (r *rowRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	p := r.plan(size.Width, rowLines)
	for n := rowLines - 1; n > 0 && p.height > size.Height+1; n-- {
		p = r.plan(size.Width, n)
	}
	sign := grow(46)
	put(r.sign, 14, (size.Height-sign)/2, sign, sign)
	r.text.set(p.lines)
	r.tag.set([]string{shorten(r.w.tag, r.tag.size, true, p.room)})
	actHigh := lineHeight(r.action.size, true)
	high := r.tagHeight() + r.text.height()
	if p.below {
		high += actHigh + 2
	}
	y := (size.Height - high) / 2
	r.tag.place(p.left, y, p.room)
	r.text.place(p.left, y+r.tagHeight(), p.room)
	if p.below {
		wide := size.Width - p.left - 16
		r.action.set([]string{shorten(p.act, r.action.size, true, wide)})
		r.action.place(p.left, y+high-actHigh, wide)
		return
	}
	r.action.set([]string{p.act})
	r.action.place(size.Width-16-p.actWidth, (size.Height-actHigh)/2, p.actWidth)
}

func (r *rowRenderer) Refresh() {
	fill, text, tag := White, Ink, nrgba(r.w.color)
	r.action.color = Blue
	if r.w.Disabled() {
		fill, text = disabledGround, InkSoft
		r.action.color = InkSoft
	}
	if Contrast(tag, White) < 4.5 {
		tag = Ink
	}
	r.text.color, r.tag.color = text, tag
	r.frame.paint(r.w.shade(fill), Line, 2, r.w.focused)
	r.sign.Refresh()
	r.Layout(r.w.Size())
}

func (r *rowRenderer) Objects() []fyne.CanvasObject {
	o := r.frame.objects(r.sign)
	o = append(o, r.tag.objects()...)
	o = append(o, r.text.objects()...)
	return append(o, r.action.objects()...)
}

func (r *rowRenderer) Destroy() {}
