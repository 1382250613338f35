package paper

import (
	"io"

	"mvuke/app/work"
	"mvuke/assets"
)

// ReleaseMark is the second, small label, printed only at release.
type ReleaseMark struct {
	Number, Load, Sterilized, LastDay string
	Note                              string // such as "not known, released by name"
	Check                             string // the check letter over what stands on the mark
}

// ReleaseMarks draws marks from a place of the first sheet on; from counts from 0 along the rows.
func ReleaseMarks(out io.Writer, w *assets.Words, g Grid, from int, marks []ReleaseMark) error {
	return g.lay(out, w, w.Say("label.mark.title"), from, len(marks), func(s *sheet, b box, i int) error {
		return s.mark(b, marks[i])
	})
}

// mark draws one. A mark with a gap would be filled in by hope: it is refused.
func (s *sheet) mark(b box, m ReleaseMark) error {
	for _, must := range []string{m.Number, m.Load, m.Sterilized, m.LastDay, m.Check} {
		if plain(must) == "" {
			return &work.Refusal{Code: "label.refuse.mark", Args: []string{plain(m.Number)}}
		}
	}
	u := b.unit
	if u < unitLeast {
		return &work.Refusal{Code: "label.refuse.small", Args: []string{plain(m.Number)}}
	}
	y := b.y + u*sizeNumber*mmPerPoint*capHeight
	if err := s.number(b.x, y, u*sizeNumber, b.w, m.Number); err != nil {
		return err
	}
	step := (b.y + b.h - y - u*mmPerPoint*sizeNote*belowLine) / 4
	y += step
	left := s.stamp(b.x+b.w-0.2, y, u*9.5, s.w.Say("label.mark.check", m.Check))
	s.whole(b.x, y, u*9.5, true, left-b.x-1, s.w.Say("label.mark.load", m.Load))
	s.whole(b.x, y+step, u*8.5, false, b.w, s.w.Say("label.mark.sterilized", m.Sterilized))
	s.whole(b.x, y+2*step, u*9.5, true, b.w, s.w.Say("label.mark.last", m.LastDay))
	s.shorten(b.x, y+3*step, u*8, true, b.w, m.Note)
	return nil
}
