package paper

import (
	"io"
	"strconv"
	"time"

	"mvuke/assets"
	"mvuke/model"
)

// SetList draws a set list for the packing table: each piece with its drawing and how many, and boxes to tick for a week of packings.
func SetList(out io.Writer, w *assets.Words, size Size, l model.SetList, made time.Time) error {
	s := newSheet(w, size, l.Name, made)
	const row, boxes = 15.5, 7
	const rows = 15 // on a page
	for from := 0; from < len(l.Pieces); from += rows {
		s.page()
		s.text(margin, 22, 20, true, ink, pageW-2*margin, l.Name)
		s.text(margin, 30, 11, false, soft, pageW-2*margin, w.Count("sets.pieces", int(l.Total()))+" · "+w.Say("setlist.how"))
		y := 38.0
		for _, p := range l.Pieces[from:min(from+rows, len(l.Pieces))] {
			_, d := w.Picture(p.Name)
			s.drawing(margin, y+0.8, row-2.6, d)
			s.text(margin+17, y+9, 15, true, ink, 12, strconv.FormatInt(p.Count, 10))
			name := p.Name
			if !p.Essential {
				name += " *"
			}
			s.text(margin+30, y+9, 13, false, ink, 82, name)
			s.pen(ink, 0.3)
			for i := range boxes {
				s.Rect(pageW-margin-float64(boxes-i)*9.5, y+3.6, 7, 7, "D")
			}
			s.pen(pale, 0.2)
			s.Line(margin, y+row-1, pageW-margin, y+row-1)
			y += row
		}
		s.text(margin, pageH-14, 9.5, false, soft, pageW-2*margin, w.Say("setlist.star"))
		s.text(margin, pageH-9, 9.5, true, ink, pageW-2*margin, w.Say("load.not"))
		s.endPage()
	}
	return s.finish(out)
}

// drawing draws a simple picture into a square.
func (s *sheet) drawing(x, y, side float64, d assets.Drawing) {
	s.pen(ink, side/30)
	s.SetLineCapStyle("round")
	s.SetLineJoinStyle("round")
	for _, l := range d {
		for i, q := range l {
			if px, py := x+q[0]*side/100, y+q[1]*side/100; i == 0 {
				s.MoveTo(px, py)
			} else {
				s.LineTo(px, py)
			}
		}
		s.DrawPath("D")
	}
	s.SetLineCapStyle("butt")
	s.SetLineJoinStyle("miter")
}
