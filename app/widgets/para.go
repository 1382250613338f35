package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Para is wrapped text of any length, without padding around it.
type Para struct {
	widget.BaseWidget
	// Text is what is shown; change it with SetText.
	Text  string
	bold  bool
	size  float32
	color color.Color
	align fyne.TextAlign
}

// NewPara makes wrapped text in the usual size.
func NewPara(text string) *Para {
	p := &Para{Text: text, size: baseText, color: Ink}
	p.ExtendBaseWidget(p)
	return p
}

// NewStrong makes wrapped bold text.
func NewStrong(text string) *Para {
	p := NewPara(text)
	p.bold = true
	return p
}

// NewSoft makes wrapped small text for asides.
func NewSoft(text string) *Para {
	p := NewPara(text)
	p.size, p.color = 14, InkSoft
	return p
}

// SetText changes the text.
func (p *Para) SetText(text string) {
	if p.Text != text {
		p.Text = text
		p.Refresh()
	}
}

// SetColor changes the colour of the text and gives the text back.
func (p *Para) SetColor(c color.Color) *Para {
	p.color = c
	p.Refresh()
	return p
}

// SetAlign sets the lines to the left, the middle or the right.
func (p *Para) SetAlign(a fyne.TextAlign) *Para {
	p.align = a
	p.Refresh()
	return p
}

// AccessibilityLabel is the text.
func (p *Para) AccessibilityLabel() string { return p.Text }

// AccessibilityRole is text.
func (p *Para) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by Fyne.
func (p *Para) CreateRenderer() fyne.WidgetRenderer {
	r := &paraRenderer{p: p}
	r.Refresh()
	return r
}

type paraRenderer struct {
	p    *Para
	text block
}

func (r *paraRenderer) fill(width float32) {
	r.text.size, r.text.bold = r.p.size*scale(), r.p.bold
	r.text.color, r.text.align = r.p.color, r.p.align
	var lines []string
	if r.p.Text != "" {
		lines = wrap(r.p.Text, r.text.size, r.text.bold, max(10, width), 0)
	}
	r.text.set(lines)
}

func (r *paraRenderer) MinSize() fyne.Size {
	width := r.p.Size().Width
	size := r.p.size * scale()
	least := min(longestWord(r.p.Text, size, r.p.bold)+1, grow(160))
	if width <= 0 {
		width = grow(480)
	}
	r.fill(max(width, least))
	return fyne.NewSize(least, r.text.height())
}

func (r *paraRenderer) Layout(size fyne.Size) {
	r.fill(size.Width)
	r.text.place(0, 0, size.Width)
}

func (r *paraRenderer) Refresh()                     { r.Layout(r.p.Size()) }
func (r *paraRenderer) Objects() []fyne.CanvasObject { return r.text.objects() }
func (r *paraRenderer) Destroy()                     {}
