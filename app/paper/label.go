package paper

import (
	"io"
	"strconv"

	"mvuke/app/work"
	"mvuke/assets"
)

// Label is the identity of a pack, printed when it is packed: only what is true then. It has no
// place for a load, a last day or a release, so that no label can be mistaken for one.
type Label struct {
	Number, Set, Packer, Wrapped string
	Note                         string // such as "5 of 6"
	Scan                         string // what the bar code carries
	Copy                         int    // 0: the first print; n: marked "copy n"
}

// Labels draws labels from a place of the first sheet on; from counts from 0 along the rows.
func Labels(out io.Writer, w *assets.Words, g Grid, from int, labels []Label) error {
	return g.lay(out, w, w.Say("label.title"), from, len(labels), func(s *sheet, b box, i int) error {
		return s.label(g, b, labels[i])
	})
}

// Sizes of the lines in points, and their distance, on the smallest labels.
const (
	sizeNumber, sizeSet, sizeSmall, sizeNote = 17.0, 8.0, 7.0, 7.5
	lineStep, belowLine                      = 1.14, 0.42
)

// label draws one: the number and four lines at the left, bars below them, a square code at the right where
// there is room for both, and instead of the bars where these do not fit. A line without a text stays
// empty: the pen may need it, and the codes are at the same place on all labels of a sheet.
func (s *sheet) label(g Grid, b box, l Label) error {
	code, err := encode(l.Number, l.Scan)
	if err != nil {
		return err
	}
	small := &work.Refusal{Code: "label.refuse.small", Args: []string{plain(l.Number)}}
	line := b.unit * mmPerPoint * lineStep
	number := b.y + b.unit*mmPerPoint*sizeNumber*capHeight
	set := number + line*sizeSet
	day := set + line*sizeSmall
	packer := day + line*sizeSmall
	note := packer + line*sizeNote
	bars := note + b.unit*mmPerPoint*sizeNote*belowLine
	bar := code.barModule(b.w)
	if b.unit < unitLeast || bar > 0 && b.y+b.h-bars < leastBarsHigh {
		return small
	}
	head, body, foot := b.w, b.w, b.w // widths of the number, of the lines beside the square code, of the note
	if bar == 0 || g.roomy() {
		top, bottom := b.y, note-line*sizeNote*0.8
		if bar == 0 {
			bottom = b.y + b.h
		}
		if !g.roomy() {
			top = number + 0.5
		}
		m := code.squareModule(min(bottom-top, b.w*0.4))
		if m == 0 {
			return small
		}
		side := code.squareSide(m)
		s.modules(code.square, onDot(b.x+b.w-side+quietSquare*m), onDot((top+bottom-side)/2+quietSquare*m), m, m)
		body -= side
		if g.roomy() {
			head = body
		}
		if bar == 0 {
			foot = body
		}
	}
	if bar > 0 {
		full := bar * float64(code.bars.Bounds().Dx()+2*quietBars)
		high := min(b.y+b.h-bars, mostBarsHigh)
		s.modules(code.bars, onDot(b.x+(b.w-full)/2+quietBars*bar), onDot(b.y+b.h-high), bar, high)
	}
	if err := s.number(b.x, number, b.unit*sizeNumber, head, l.Number); err != nil {
		return err
	}
	s.shorten(b.x, set, b.unit*sizeSet, false, body, l.Set)
	if l.Wrapped != "" {
		s.whole(b.x, day, b.unit*sizeSmall, false, body, s.w.Say("label.wrapped", l.Wrapped))
	}
	if l.Copy > 0 {
		body = s.stamp(b.x+body-0.2, packer, b.unit*sizeSmall, s.w.Say("label.copy", strconv.Itoa(l.Copy))) - b.x - 1
	}
	if l.Packer != "" {
		s.shorten(b.x, packer, b.unit*sizeSmall, false, body, s.w.Say("label.packer", l.Packer))
	}
	s.shorten(b.x, note, b.unit*sizeNote, true, foot, l.Note)
	return nil
}
