package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// Cell is one square of a line: a letter and a colour. A hollow one is not accounted for.
type Cell struct {
	Letter string
	Color  color.Color
	Hollow bool
}

// Squares is a line of squares with a name before it: the things of one lot, each where it is. A tap on a square opens it, a tap elsewhere opens the lot.
type Squares struct {
	pressable
	name  string
	mark  bool // it is the one that all comes from
	cells []Cell
	open  func(int)
}

// NewSquares makes a line. tapped opens the lot, open one of its squares.
func NewSquares(name string, mark bool, cells []Cell, tapped func(), open func(int)) *Squares {
	s := &Squares{name: name, mark: mark, cells: cells, open: open}
	s.act, s.self = tapped, s
	s.ExtendBaseWidget(s)
	return s
}

// AccessibilityLabel reads the name and the letters.
func (s *Squares) AccessibilityLabel() string {
	out := s.name + ": "
	for _, c := range s.cells {
		out += c.Letter
	}
	return out
}

// squareSide and squareGap are of one square, before the text is scaled.
const (
	squareSide = 40
	squareGap  = 5
)

// plan gives how many squares stand in a row, beside the name.
func (s *Squares) plan(width float32) (left, side float32, inRow int) {
	left, side = grow(150), grow(squareSide)
	inRow = clamp(int((width-left-12+squareGap)/(side+squareGap)), 1, max(1, len(s.cells)))
	return left, side, inRow
}

// Tapped opens what was touched.
func (s *Squares) Tapped(e *fyne.PointEvent) {
	left, side, inRow := s.plan(s.Size().Width)
	x, y := int((e.Position.X-left)/(side+squareGap)), int((e.Position.Y-ringRoom-4)/(side+squareGap))
	if i := y*inRow + x; e.Position.X >= left && x < inRow && y >= 0 && i < len(s.cells) && s.open != nil {
		focusOn(s)
		s.open(i)
		return
	}
	s.pressable.Tapped(e)
}

// CreateRenderer is called by Fyne.
func (s *Squares) CreateRenderer() fyne.WidgetRenderer {
	watch(s, func() string { return s.name })
	r := &squaresRenderer{s: s, frame: newFrame()}
	r.name.bold = true
	for range s.cells {
		box, letter := canvas.NewRectangle(clear), canvas.NewText("", White)
		letter.TextStyle.Bold, letter.Alignment = true, fyne.TextAlignCenter
		r.boxes, r.letters = append(r.boxes, box), append(r.letters, letter)
	}
	r.Refresh()
	return r
}

type squaresRenderer struct {
	s       *Squares
	frame   *frame
	name    block
	boxes   []*canvas.Rectangle
	letters []*canvas.Text
}

func (r *squaresRenderer) MinSize() fyne.Size {
	width := r.s.Size().Width
	if width < grow(260) {
		width = grow(700)
	}
	return fyne.NewSize(grow(260), r.heightFor(width))
}

func (r *squaresRenderer) heightFor(width float32) float32 {
	_, side, inRow := r.s.plan(width)
	rows := (len(r.s.cells) + inRow - 1) / inRow
	return max(touch(), float32(rows)*(side+squareGap)+2*ringRoom+6)
}

func (r *squaresRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	left, side, inRow := r.s.plan(size.Width)
	r.name.size = 16 * scale()
	r.name.set(wrap(r.s.name, r.name.size, true, left-26, 2))
	r.name.place(16, (size.Height-r.name.height())/2, left-26)
	for i := range r.boxes {
		x, y := left+float32(i%inRow)*(side+squareGap), ringRoom+4+float32(i/inRow)*(side+squareGap)
		put(r.boxes[i], x, y, side, side)
		high := r.letters[i].MinSize().Height
		put(r.letters[i], x, y+(side-high)/2, side, high)
	}
}

func (r *squaresRenderer) Refresh() {
	border, wide := Line, float32(2)
	if r.s.mark {
		border, wide = Vermilion, 3
	}
	r.name.color = Ink
	if r.s.mark {
		r.name.color = Vermilion
	}
	r.frame.paint(r.s.shade(White), border, wide, r.s.focused)
	for i, c := range r.s.cells {
		box, letter := r.boxes[i], r.letters[i]
		box.CornerRadius, box.StrokeWidth, box.StrokeColor, box.FillColor = 4, 2, c.Color, c.Color
		letter.Text, letter.TextSize, letter.Color = c.Letter, 16*scale(), over(c.Color)
		if c.Hollow {
			box.FillColor, letter.Color = White, c.Color
		}
		box.Refresh()
		letter.Refresh()
	}
	r.Layout(r.s.Size())
}

func (r *squaresRenderer) Objects() []fyne.CanvasObject {
	out := r.frame.objects()
	out = append(out, r.name.objects()...)
	for i := range r.boxes {
		out = append(out, r.boxes[i], r.letters[i])
	}
	return out
}

func (r *squaresRenderer) Destroy() {}
