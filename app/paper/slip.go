package paper

import (
	"io"
	"strconv"

	"mvuke/assets"
)

// Slip draws the slip for the fire: four to a page, each with the figures of this pot. What is
// written on it is typed in afterwards on one screen, in the same order.
func Slip(out io.Writer, w *assets.Words, size Size, c Card) error {
	s := newSheet(w, size, w.Say("paper.slip"), c.Made)
	s.page()
	const gap = 6.0
	bw, bh := (pageW-3*gap)/2, (pageH-3*gap)/2
	for i := range 4 {
		s.slip(gap+float64(i%2)*(bw+gap), gap+float64(i/2)*(bh+gap), bw, bh, c)
	}
	s.endPage()
	return s.finish(out)
}

// slipRows are the looks that one slip has room for: an hour at one every five minutes would be twelve.
const slipRows = 11

func (s *sheet) slip(x, y, width, height float64, c Card) {
	w := s.w
	s.pen(ink, 0.4)
	s.Rect(x, y, width, height, "D")
	in := width - 8
	s.text(x+4, y+7, 12, true, ink, in, w.Say("paper.slip")+" · "+w.Say("card.title", c.Site.Name, c.Pot.Name))
	ny := s.para(x+4, y+12.5, 9, in, true, blue, s.keepLine(c))
	s.blanks(x+4, ny+1, in, w.Say("paper.day"), w.Say("paper.hour"), w.Say("paper.who"))
	s.blanks(x+4, ny+8, in, w.Say("paper.rest"), w.Say("paper.water"))
	s.blanks(x+4, ny+15, in, w.Say("paper.packs"))
	s.blanks(x+4, ny+22, in, w.Say("paper.vent"))
	top := ny + 25
	s.grid(x+4, top, in, slipRows, 5.9, w.Say("paper.minute"), w.Say("paper.needle", c.Plan.Unit), w.Say("paper.lowest"))
	y2 := top + (slipRows+1)*5.9 + 5
	s.blanks(x+4, y2-1, in, w.Say("paper.zero"))
	s.blanks(x+4, y2+5, in, w.Say("paper.out"), w.Say("paper.open"))
	s.para(x+4, y+height-8, 6.4, in, false, ink, w.Say("caution.open")+" "+w.Say("caution.line"))
}

func (s *sheet) keepLine(c Card) string {
	f := func(milli int64) string { return s.w.Number(float64(milli)/1000, 3) }
	limit := "—"
	if c.Plan.LimitMilli > 0 {
		limit = f(c.Plan.LimitMilli)
	}
	return s.w.Say("paper.keep", f(c.Plan.MarkMilli)+" "+c.Plan.Unit, strconv.FormatInt(c.Plan.Minutes, 10), f(c.Plan.RestartMilli), limit)
}

// blanks writes labels with a line to write on after each, side by side.
func (s *sheet) blanks(x, y, width float64, labels ...string) {
	each := width / float64(len(labels))
	for _, l := range labels {
		n := s.text(x, y, 8.5, false, ink, each*0.62, l)
		s.pen(soft, 0.2)
		s.Line(x+n+1.5, y+0.6, x+each-2, y+0.6)
		x += each
	}
}

// grid draws an empty table with a head line.
func (s *sheet) grid(x, y, width float64, rows int, height float64, heads ...string) {
	each := width / float64(len(heads))
	s.pen(ink, 0.25)
	for i, h := range heads {
		s.text(x+float64(i)*each+1.2, y+height-1.8, 8.5, true, ink, each-2.4, h)
	}
	for i := range rows + 2 {
		s.Line(x, y+float64(i)*height, x+width, y+float64(i)*height)
	}
	for i := range len(heads) + 1 {
		s.Line(x+float64(i)*each, y, x+float64(i)*each, y+float64(rows+1)*height)
	}
}
