package screens

import (
	"slices"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
)

// comparisons lists those of a gauge, newest first: what each found, and whether it counts. One that was wrong is taken back here. again shows the page on which that gauge is compared.
func (s *Stage) comparisons(pot work.Pot, again func()) fyne.CanvasObject {
	all, err := s.Desk.Comparisons(pot)
	if err != nil {
		return widgets.NewPara(s.Fault(err))
	}
	rows := []fyne.CanvasObject{widgets.NewStrong(s.Say("compare.list"))}
	if len(all) == 0 {
		rows = append(rows, widgets.NewPara(s.Say("compare.none")))
	}
	if len(all) > 0 && !slices.ContainsFunc(all, func(c work.Comparison) bool { return c.Counts && !c.Gone }) {
		rows = append(rows, widgets.NewStrong(s.Say("compare.none.counts")).SetColor(widgets.Vermilion))
	}
	for _, c := range all {
		day := s.Say("cycle.doubt")
		if !c.When.IsZero() {
			day = s.Words.Day(c.When)
		}
		text := join(day, s.foundOut(c))
		shape, colour, tag, action, tap := widgets.Square, widgets.InkSoft, s.Say("compare.older"), s.Say("compare.withdraw"), func() {
			s.WithPerson(func() { s.withdraw(pot, c, again) })
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

// earlierGauges lists what was found of the gauges that were on a pot before.
func (s *Stage) earlierGauges(place work.Place, pot work.Pot) fyne.CanvasObject {
	all, err := s.Desk.EarlierGauges(pot)
	if err != nil {
		return widgets.NewPara(s.Fault(err))
	}
	var rows []fyne.CanvasObject
	for _, was := range all {
		again := func() { s.Show(s.compare(place, was, true)) }
		rows = append(rows, widgets.NewBig(s.Say("compare.earlier"), 20, widgets.Ink, true), widgets.NewStrong(s.DialOf(was)), widgets.NewPara(s.Say("compare.earlier.how")),
			widgets.NewButton(s.Say("compare.earlier.again", s.serialOf(was)), widgets.Plain, again), s.comparisons(was, again))
	}
	return widgets.NewColumn(rows...)
}

// DialOf says which gauge it is: its number, as far as that is known, and its dial.
func (s *Stage) DialOf(pot work.Pot) string {
	return s.Say("compare.earlier.looks", s.serialOf(pot), s.Words.Number(float64(pot.Gauge.SpanMilli)/1000, 1), pot.Gauge.Unit)
}

// serialOf is the number on a gauge's dial, as far as that is known.
func (s *Stage) serialOf(pot work.Pot) string {
	if pot.Gauge.Serial == "" {
		return "?"
	}
	return pot.Gauge.Serial
}

// foundOut is what a comparison found: the most that the gauge shows too much, or the least that it shows too little.
func (s *Stage) foundOut(c work.Comparison) string {
	if len(c.Points) == 0 {
		return ""
	}
	most := c.Points[0].ErrorMilli
	for _, p := range c.Points {
		most = max(most, p.ErrorMilli)
	}
	key := "compare.found"
	switch {
	case most == 0:
		return s.Say("compare.found.right")
	case most < 0:
		key, most = "compare.found.less", -most
	}
	return s.Say(key, s.Words.Number(float64(most)/1000, 2), c.Unit)
}

// withdraw asks why a comparison is taken back, and says what follows. Where nothing else says how that gauge shows, its form comes up first.
func (s *Stage) withdraw(pot work.Pot, c work.Comparison, again func()) {
	doubt, err := s.Desk.CheckWithdraw(pot, c.ID)
	if work.IsAlone(err) {
		again()
	}
	if !s.Tell(err) {
		return
	}
	text := s.Say("compare.withdraw.ask")
	if doubt > 0 {
		text += "\n" + s.Words.Count("compare.withdraw.doubt", doubt)
	}
	s.reasonFor(text, func(why string) { s.done(s.Desk.Withdraw(pot, c.ID, why)) })
}
