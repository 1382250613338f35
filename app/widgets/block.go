package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// block is a few lines of text placed by hand, without the padding of a label.
type block struct {
	size  float32
	bold  bool
	color color.Color
	align fyne.TextAlign
	texts []*canvas.Text
	shown int
}

// set puts the lines in; spare texts are kept and hidden.
func (b *block) set(lines []string) {
	for len(b.texts) < len(lines) {
		b.texts = append(b.texts, canvas.NewText("", Ink))
	}
	b.shown = len(lines)
	for i, t := range b.texts {
		if i >= len(lines) {
			t.Text = ""
			t.Hide()
			continue
		}
		t.Text, t.TextSize, t.TextStyle = lines[i], b.size, style(b.bold)
		t.Color, t.Alignment = b.color, b.align
		t.Show()
	}
}

// place puts the lines one below the other from the given corner.
func (b *block) place(x, y, width float32) {
	h := lineHeight(b.size, b.bold)
	for i, t := range b.texts[:b.shown] {
		t.Move(fyne.NewPos(x, y+float32(i)*h))
		t.Resize(fyne.NewSize(width, h))
		t.Refresh()
	}
}

func (b *block) height() float32 {
	return float32(b.shown) * lineHeight(b.size, b.bold)
}

func (b *block) objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(b.texts))
	for i, t := range b.texts {
		out[i] = t
	}
	return out
}
