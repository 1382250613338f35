package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Big is one line of text of any size; what does not fit ends in an ellipsis.
type Big struct {
	widget.BaseWidget
	// Text is what is shown; change it with SetText.
	Text  string
	size  float32
	color color.Color
	bold  bool
	align fyne.TextAlign
}

// NewBig makes a line of text. The size is that at the usual text size of the
// theme; it grows with it.
func NewBig(text string, size float32, c color.Color, bold bool) *Big {
	b := &Big{Text: text, size: clamp(size, 6, 300), color: c, bold: bold}
	b.ExtendBaseWidget(b)
	return b
}

// SetText changes the text.
func (b *Big) SetText(text string) {
	if b.Text != text {
		b.Text = text
		b.Refresh()
	}
}

// SetColor changes the colour of the text.
func (b *Big) SetColor(c color.Color) {
	b.color = c
	b.Refresh()
}

// SetAlign sets the text to the left, the middle or the right.
func (b *Big) SetAlign(a fyne.TextAlign) *Big {
	b.align = a
	b.Refresh()
	return b
}

// AccessibilityLabel is the text.
func (b *Big) AccessibilityLabel() string { return b.Text }

// AccessibilityRole is text.
func (b *Big) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by Fyne.
func (b *Big) CreateRenderer() fyne.WidgetRenderer {
	r := &bigRenderer{b: b}
	r.text.set([]string{b.Text})
	r.Refresh()
	return r
}

type bigRenderer struct {
	b    *Big
	text block
}

func (r *bigRenderer) MinSize() fyne.Size {
	size := r.b.size * scale()
	w := min(textWidth(r.b.Text, size, r.b.bold), grow(320))
	return fyne.NewSize(w+1, lineHeight(size, r.b.bold))
}

func (r *bigRenderer) Layout(size fyne.Size) {
	r.text.size, r.text.bold = r.b.size*scale(), r.b.bold
	r.text.color, r.text.align = r.b.color, r.b.align
	r.text.set([]string{shorten(r.b.Text, r.text.size, r.text.bold, size.Width+0.5)})
	r.text.place(0, (size.Height-r.text.height())/2, size.Width)
}

func (r *bigRenderer) Refresh()                     { r.Layout(r.b.Size()) }
func (r *bigRenderer) Objects() []fyne.CanvasObject { return r.text.objects() }
func (r *bigRenderer) Destroy()                     {}
