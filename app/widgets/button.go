package widgets

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
)

// Look is what a button says about itself by its shape and colour.
type Look int

const (
	// Do is the one thing to do now: solid blue.
	Do Look = iota
	// Plain is any other thing that can be done: white with a dark border.
	Plain
	// Harm takes something away or stops something: solid vermilion.
	Harm
	// Quiet is an aside: blue text without a box.
	Quiet
)

// Button is a large button with text on one or two lines.
type Button struct {
	pressable
	// Text is what the button shows; change it with SetText.
	Text string
	look Look
	size float32
}

// NewButton makes a button. A "\n" in the text starts the second line.
func NewButton(text string, look Look, tapped func()) *Button {
	b := &Button{Text: text, look: look, size: 17}
	b.act, b.self = tapped, b
	b.ExtendBaseWidget(b)
	return b
}

// SetText changes what the button shows.
func (b *Button) SetText(text string) {
	if b.Text != text {
		b.Text = text
		b.Refresh()
	}
}

// SetLook changes the kind of button.
func (b *Button) SetLook(l Look) {
	b.look = l
	b.Refresh()
}

// AccessibilityLabel is the text in one line.
func (b *Button) AccessibilityLabel() string {
	return strings.ReplaceAll(b.Text, "\n", " ")
}

// CreateRenderer is called by Fyne.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	watch(b, func() string { return b.Text })
	r := &buttonRenderer{b: b, frame: newFrame()}
	r.text = block{bold: true, align: fyne.TextAlignCenter}
	r.Refresh()
	return r
}

type buttonRenderer struct {
	b     *Button
	frame *frame
	text  block
}

func (r *buttonRenderer) pad() float32 { return ringRoom + 8 }

func (r *buttonRenderer) MinSize() fyne.Size {
	lines := strings.SplitN(r.b.Text, "\n", 2)
	size := r.b.size * scale()
	w := widest(lines, size, true)
	// A long line may wrap, so it does not force the window to be wide.
	w = min(w, max(grow(150), longestWord(r.b.Text, size, true)), grow(320))
	n := len(wrap(r.b.Text, size, true, max(w, r.b.Size().Width-2*r.pad())+1, 2))
	h := float32(n)*lineHeight(size, true) + 16
	return fyne.NewSize(max(touch(), w+2*r.pad()), max(touch(), h))
}

func (r *buttonRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	r.text.size = r.b.size * scale()
	width := max(10, size.Width-2*r.pad()+1)
	r.text.set(wrap(r.b.Text, r.text.size, true, width, 2))
	r.text.place(0, (size.Height-r.text.height())/2, size.Width)
}

func (r *buttonRenderer) Refresh() {
	fill, border, text, wide := r.colors()
	if fill == clear && (r.b.hovered || r.b.pressed) && !r.b.Disabled() {
		fill = White
	}
	if fill != clear {
		fill = r.b.shade(fill)
	}
	r.text.color = text
	r.frame.paint(fill, border, wide, r.b.focused)
	r.Layout(r.b.Size())
}

func (r *buttonRenderer) colors() (fill, border, text color.NRGBA, wide float32) {
	switch {
	case r.b.Disabled() && r.b.look == Quiet:
		return clear, clear, InkSoft, 0
	case r.b.Disabled():
		return disabledGround, Line, InkSoft, 2
	case r.b.look == Plain:
		return White, Ink, Ink, 2
	case r.b.look == Harm:
		return Vermilion, Vermilion, White, 0
	case r.b.look == Quiet:
		return clear, clear, Blue, 0
	}
	return Blue, Blue, White, 0
}

func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return append(r.frame.objects(), r.text.objects()...)
}

func (r *buttonRenderer) Destroy() {}

// longestWord is the width of the widest single word of a text.
func longestWord(text string, size float32, bold bool) float32 {
	return widest(strings.Fields(text), size, bold)
}
