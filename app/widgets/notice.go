package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Notice is a card with a coloured bar: a short bold title and a detail below.
type Notice struct {
	widget.BaseWidget
	color         color.Color
	title, detail string
}

// NewNotice makes a notice; an empty detail leaves only the title.
func NewNotice(c color.Color, title, detail string) *Notice {
	n := &Notice{color: c, title: title, detail: detail}
	n.ExtendBaseWidget(n)
	return n
}

// SetText changes what the notice says.
func (n *Notice) SetText(title, detail string) {
	n.title, n.detail = title, detail
	n.Refresh()
}

// SetColor changes the colour of the bar.
func (n *Notice) SetColor(c color.Color) {
	n.color = c
	n.Refresh()
}

// AccessibilityLabel is all of the text.
func (n *Notice) AccessibilityLabel() string { return n.title + ". " + n.detail }

// AccessibilityRole is text.
func (n *Notice) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by Fyne.
func (n *Notice) CreateRenderer() fyne.WidgetRenderer {
	r := &noticeRenderer{n: n, frame: newFrame(), bar: canvas.NewRectangle(Amber)}
	r.bar.TopLeftCornerRadius, r.bar.BottomLeftCornerRadius = radius, radius
	r.title.bold = true
	r.Refresh()
	return r
}

type noticeRenderer struct {
	n             *Notice
	frame         *frame
	bar           *canvas.Rectangle
	title, detail block
}

const noticeLeft, noticeRight, noticeTop = 24, 14, 11

func (r *noticeRenderer) fill(width float32) {
	r.title.size, r.detail.size = 18*scale(), 14.5*scale()
	r.title.color, r.detail.color = Ink, InkSoft
	room := max(20, width-noticeLeft-noticeRight)
	var title, detail []string
	if r.n.title != "" {
		title = wrap(r.n.title, r.title.size, true, room, 0)
	}
	if r.n.detail != "" {
		detail = wrap(r.n.detail, r.detail.size, false, room, 0)
	}
	r.title.set(title)
	r.detail.set(detail)
}

func (r *noticeRenderer) space() float32 {
	if r.title.shown > 0 && r.detail.shown > 0 {
		return 3
	}
	return 0
}

func (r *noticeRenderer) MinSize() fyne.Size {
	width := r.n.Size().Width
	if width <= 0 {
		width = grow(480)
	}
	r.fill(width)
	return fyne.NewSize(grow(180), max(grow(40), r.title.height()+r.space()+r.detail.height()+2*noticeTop))
}

func (r *noticeRenderer) Layout(size fyne.Size) {
	r.fill(size.Width)
	r.frame.layout(size)
	put(r.bar, 0, 0, 10, size.Height)
	y := max(0, (size.Height-r.title.height()-r.space()-r.detail.height())/2)
	room := size.Width - noticeLeft - noticeRight
	r.title.place(noticeLeft, y, room)
	r.detail.place(noticeLeft, y+r.title.height()+r.space(), room)
}

func (r *noticeRenderer) Refresh() {
	r.frame.paint(White, Line, 2, false)
	r.bar.FillColor = r.n.color
	r.bar.Refresh()
	r.Layout(r.n.Size())
}

func (r *noticeRenderer) Objects() []fyne.CanvasObject {
	o := append(r.frame.objects(r.bar), r.title.objects()...)
	return append(o, r.detail.objects()...)
}

func (r *noticeRenderer) Destroy() {}
