package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Sum is one figure of several that add up: the letter of its squares, a number, a word and what to do. A tap opens its list.
type Sum struct {
	pressable
	letter, figure, word, how string
	color                     color.Color
	hollow                    bool
}

// NewSum makes one.
func NewSum(letter string, c color.Color, hollow bool, figure, word, how string, tapped func()) *Sum {
	s := &Sum{letter: letter, figure: figure, word: word, how: how, color: c, hollow: hollow}
	s.act, s.self = tapped, s
	s.ExtendBaseWidget(s)
	return s
}

// AccessibilityLabel reads it from left to right.
func (s *Sum) AccessibilityLabel() string { return s.figure + " " + s.word + ": " + s.how }

// CreateRenderer is called by Fyne.
func (s *Sum) CreateRenderer() fyne.WidgetRenderer {
	watch(s, func() string { return s.word })
	r := &sumRenderer{s: s, frame: newFrame(), bar: canvas.NewRectangle(s.color), letter: canvas.NewText(s.letter, White), figure: canvas.NewText(s.figure, Ink)}
	r.letter.TextStyle.Bold, r.figure.TextStyle.Bold = true, true
	r.letter.Alignment = fyne.TextAlignCenter
	r.word.bold = true
	r.Refresh()
	return r
}

type sumRenderer struct {
	s              *Sum
	frame          *frame
	bar            *canvas.Rectangle
	letter, figure *canvas.Text
	word, how      block
}

// sumBar is the width of the bar with the letter, sumFigure that of the number.
const (
	sumBar    = 38
	sumFigure = 86
)

func (r *sumRenderer) lines(width float32) (word, how []string, left float32) {
	left = grow(sumBar) + grow(sumFigure)
	r.word.size, r.how.size = 17*scale(), 14*scale()
	room := max(40, width-left-14)
	return wrap(r.s.word, r.word.size, true, room, 2), wrap(r.s.how, r.how.size, false, room, 3), left
}

func (r *sumRenderer) MinSize() fyne.Size {
	width := r.s.Size().Width
	if width < grow(240) {
		width = grow(330)
	}
	word, how, _ := r.lines(width)
	return fyne.NewSize(grow(240), max(touch()+8, float32(len(word))*lineHeight(r.word.size, true)+float32(len(how))*lineHeight(r.how.size, false)+18))
}

func (r *sumRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	bar := grow(sumBar)
	put(r.bar, ringRoom, ringRoom, bar, size.Height-2*ringRoom)
	high := r.letter.MinSize().Height
	put(r.letter, ringRoom, (size.Height-high)/2, bar, high)
	high = r.figure.MinSize().Height
	put(r.figure, bar+16, (size.Height-high)/2, grow(sumFigure)-10, high)
	word, how, left := r.lines(size.Width)
	r.word.set(word)
	r.how.set(how)
	y := (size.Height - r.word.height() - r.how.height()) / 2
	r.word.place(left, y, size.Width-left-14)
	r.how.place(left, y+r.word.height(), size.Width-left-14)
}

func (r *sumRenderer) Refresh() {
	r.frame.paint(r.s.shade(White), Line, 2, r.s.focused)
	r.bar.FillColor, r.bar.StrokeColor, r.bar.StrokeWidth, r.bar.CornerRadius = r.s.color, r.s.color, 2, 4
	r.letter.Color, r.letter.TextSize = over(r.s.color), 18*scale()
	if r.s.hollow {
		r.bar.FillColor, r.letter.Color = White, r.s.color
	}
	r.figure.TextSize = 32 * scale()
	r.word.color, r.how.color = Ink, InkSoft
	r.bar.Refresh()
	r.letter.Refresh()
	r.Layout(r.s.Size())
}

func (r *sumRenderer) Objects() []fyne.CanvasObject {
	out := r.frame.objects(r.bar, r.letter, r.figure)
	out = append(out, r.word.objects()...)
	return append(out, r.how.objects()...)
}

func (r *sumRenderer) Destroy() {}

// over is a colour that can be read on another.
func over(ground color.Color) color.Color {
	if Contrast(White, ground) < 4.5 {
		return Ink
	}
	return White
}
