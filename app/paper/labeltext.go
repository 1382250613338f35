package paper

import (
	"strings"
	"unicode"

	"mvuke/app/work"
)

// black alone is printed without a raster by printers that know no grey: labels have no other colour.
var black = rgb{0, 0, 0}

const (
	mmPerPoint  = 25.4 / 72
	capHeight   = 0.714 // of Noto Sans, in parts of the size
	smaller     = 0.86  // how far a text may shrink before it is cut
	numberLeast = 10.0  // points: below, nobody reads a number at arm's length
	ellipsis    = "…"
)

// plain takes out what would break a line or has no letter in the font.
func plain(str string) string {
	str = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r):
			return ' '
		case r > 0xFFFE: // the fonts end there
			return '?'
		}
		return r
	}, str)
	return strings.Join(strings.Fields(str), " ")
}

func (s *sheet) font(size float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	s.SetFont("noto", style, size)
}

// shorten writes a text a little smaller, and cuts it with an ellipsis where that is not enough: the label
// beside it belongs to another pack. It gives the width written.
func (s *sheet) shorten(x, y, size float64, bold bool, max float64, str string) float64 {
	str = plain(str)
	s.font(size, bold)
	if w := s.GetStringWidth(str); w > max {
		size *= smaller
		s.font(size, bold)
		if w = s.GetStringWidth(str); w < max {
			return s.text(x, y, size/smaller, bold, black, max, str)
		}
		runes := []rune(str)
		for len(runes) > 0 && s.GetStringWidth(strings.TrimRight(string(runes), " ")+ellipsis) > max {
			runes = runes[:len(runes)-1]
		}
		str = strings.TrimRight(string(runes), " ") + ellipsis
	}
	return s.text(x, y, size, bold, black, max, str)
}

// whole writes what must never be cut, such as a date, as small as it must be.
func (s *sheet) whole(x, y, size float64, bold bool, max float64, str string) {
	s.text(x, y, size, bold, black, max, plain(str))
}

// number writes the number of a pack. A part of a number is the number of another pack: it is
// refused where it does not fit.
func (s *sheet) number(x, y, size, max float64, str string) error {
	s.font(numberLeast, true)
	if str == "" || str != plain(str) || s.GetStringWidth(str) > max {
		return &work.Refusal{Code: "label.refuse.small", Args: []string{plain(str)}}
	}
	s.text(x, y, size, true, black, max, str)
	return nil
}

// stamp writes a framed text that ends at x and gives where it begins: what is framed is seen first.
func (s *sheet) stamp(x, y, size float64, str string) float64 {
	s.font(size, true)
	mm := size * mmPerPoint
	w := s.GetStringWidth(str) + 0.6*mm
	s.pen(black, 0.25)
	s.Rect(x-w, y-0.84*mm, w, 1.08*mm, "D")
	s.text(x-w+0.3*mm, y, size, true, black, 0, str)
	return x - w
}
