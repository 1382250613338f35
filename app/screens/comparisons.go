package screens

import (
	"math"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
)

// comparisons lists those of a gauge, newest first: what each found, and whether it counts. One that was wrong is taken back here.
func (s *Stage) comparisons(pot work.Pot) fyne.CanvasObject {
	all, err := s.Desk.Comparisons(pot)
	if err != nil {
		return widgets.NewPara(s.Fault(err))
	}
	rows := []fyne.CanvasObject{widgets.NewStrong(s.Say("compare.list"))}
	if len(all) == 0 {
		rows = append(rows, widgets.NewPara(s.Say("compare.none")))
	}
	others := 0
	for _, c := range all {
		if c.Counts {
			others++
		}
	}
	for _, c := range all {
		most := int64(math.MinInt64)
		for _, p := range c.Points {
			most = max(most, p.ErrorMilli)
		}
		day := s.Say("cycle.doubt")
		if !c.When.IsZero() {
			day = s.Words.Day(c.When)
		}
		text := join(day, s.Say("compare.found", s.Words.Number(float64(most)/1000, 2), c.Unit))
		if len(c.Points) == 0 {
			text = day
		}
		shape, colour, tag, action, tap := widgets.Square, widgets.InkSoft, s.Say("compare.older"), s.Say("compare.withdraw"), func() {
			s.WithPerson(func() { s.withdraw(pot, c, others > 1 || (others == 1 && !c.Counts)) })
		}
		switch {
		case c.Gone:
			tag, action, tap = s.Say("compare.gone"), "", func() {}
			when := s.Say("cycle.doubt")
			if !c.Withdrawn.IsZero() {
				when = s.Words.Day(c.Withdrawn)
			}
			text = join(text, s.Say("compare.gone.on", when, c.Reason))
		case c.Counts:
			shape, colour, tag = widgets.Check, widgets.Green, s.Say("compare.counts")
		}
		rows = append(rows, widgets.NewRow(shape, colour, tag, text, action, tap))
	}
	return widgets.NewColumn(rows...)
}

// withdraw asks why a comparison is taken back, and says what follows.
func (s *Stage) withdraw(pot work.Pot, c work.Comparison, othersCount bool) {
	doubt, err := s.Desk.CheckWithdraw(pot, c.ID)
	if !s.Tell(err) {
		return
	}
	key := "compare.withdraw.ask"
	if othersCount {
		key = "compare.withdraw.other"
	}
	text := s.Say(key)
	if doubt > 0 {
		text += "\n" + s.Words.Count("compare.withdraw.doubt", doubt)
	}
	s.reasonFor(text, func(why string) { s.done(s.Desk.Withdraw(pot, c.ID, why)) })
}
