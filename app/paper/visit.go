package paper

import (
	"io"
	"strconv"
	"time"

	"mvuke/app/work"
	"mvuke/assets"
)

// Visit is what a visit sheet is drawn from.
type Visit struct {
	Site  string
	Known []string          // what the office knows of the clinic, a line each
	Said  *work.VisitView   // as it was written down; nil: an empty sheet, to take along
	By    string            // who visited
	Open  []work.ActionView // what was agreed on before and waits
}

// emptyActions are the lines of an empty sheet for what is agreed on.
const emptyActions = 4

// VisitSheet draws the checklist of a visit: empty, to be filled in at the clinic by hand and typed in later, or as it was written down, to stay there.
func VisitSheet(out io.Writer, w *assets.Words, size Size, v Visit, made time.Time) error {
	s := newSheet(w, size, w.Say("visit.title", v.Site), made)
	s.page()
	s.text(margin, 20, 19, true, ink, pageW-2*margin, w.Say("visit.title", v.Site))
	head := w.Say("month.made", w.Day(made)) + " · " + w.Say("visit.paper.empty")
	if v.Said != nil {
		head = v.By
		if v.Said.Known {
			head = w.Day(v.Said.When) + " · " + v.By
		}
	}
	s.text(margin, 27, 11, false, soft, pageW-2*margin, head)
	s.pen(ink, 0.6)
	s.Line(margin, 31, pageW-margin, 31)
	y := 39.0
	for _, line := range v.Known {
		s.text(margin, y, 11, false, ink, pageW-2*margin, line)
		y += 6
	}
	y = s.checks(y+4, v.Said)
	y = s.agreed(y+6, v)
	s.text(margin, min(y+14, pageH-24), 10.5, false, ink, pageW-2*margin, w.Say("visit.paper.sign"))
	s.text(margin, pageH-14, 8, false, soft, pageW-2*margin, w.Say("caution.line"))
	s.endPage()
	return s.finish(out)
}

// checks has a line each, with a box for yes and one for no.
func (s *sheet) checks(y float64, said *work.VisitView) float64 {
	const yes, no = 150.0, 172.0
	s.text(yes-2, y, 9.5, true, soft, 20, s.w.Say("visit.good"))
	s.text(no-2, y, 9.5, true, soft, 24, s.w.Say("visit.bad"))
	y += 6.5
	for _, code := range work.VisitChecks {
		s.text(margin, y, 12, false, ink, yes-margin-4, s.w.Say("visit.check."+code))
		s.pen(ink, 0.35)
		s.Rect(yes, y-4, 5, 5, "D")
		s.Rect(no, y-4, 5, 5, "D")
		if said != nil {
			for _, c := range said.Checks {
				x := no
				if c.Good {
					x = yes
				}
				if c.Code == code {
					s.pen(ink, 0.9)
					s.Line(x+0.8, y-3.2, x+4.2, y+0.2)
					s.Line(x+0.8, y+0.2, x+4.2, y-3.2)
				}
			}
		}
		s.pen(pale, 0.2)
		s.Line(margin, y+2.8, pageW-margin, y+2.8)
		y += 9
	}
	return y
}

// agreed is what waits from before and what was agreed on now, each with its day; on an empty sheet lines to write on.
func (s *sheet) agreed(y float64, v Visit) float64 {
	s.text(margin, y, 12, true, ink, 0, s.w.Say("visit.paper.actions"))
	y += 7
	row := func(due, text, by string) {
		if y > pageH-34 {
			s.endPage()
			s.page()
			y = 24
		}
		s.text(margin, y, 11, true, ink, 34, due)
		s.text(margin+36, y, 11, false, ink, pageW-2*margin-70, text)
		s.text(pageW-margin-32, y, 9.5, false, soft, 32, by)
		s.pen(pale, 0.2)
		s.Line(margin, y+2.2, pageW-margin, y+2.2)
		y += 8
	}
	now := map[string]bool{}
	if v.Said != nil {
		for _, a := range v.Said.Actions {
			now[a.ID.String()] = true
			row(s.w.Day(time.UnixMilli(a.Due)), a.Text, v.By)
		}
	}
	for _, a := range v.Open {
		if !now[a.ID.String()] {
			row(s.w.Day(time.UnixMilli(a.Due)), a.Text, a.By)
		}
	}
	if v.Said == nil {
		for i := range emptyActions {
			row(strconv.Itoa(i+1)+".", "", "")
		}
	}
	return y
}
