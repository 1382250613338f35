package screens

import (
	"io"
	"strconv"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/tables"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// officeToday is what waits at the district's office, and how each clinic stands by what has come in: on the mountain, since altitude is what differs, and as rows with what matters
// first. Every row opens the clinic's page.
func (s *Stage) officeToday(title string, lines []work.Line) fyne.CanvasObject {
	all, err := s.Desk.Standings()
	if err != nil {
		return Page(title, "", widgets.NewPara(s.Fault(err)))
	}
	var body, rows []fyne.CanvasObject
	for _, l := range lines {
		if l.Code != "recall" && l.Code != "recall-untold" { // the clinics' rows say it
			body = append(body, todayRow(s, l))
		}
	}
	var spots []widgets.Spot
	reported := 0
	for _, x := range all {
		spots = append(spots, s.spot(x))
		rows = append(rows, s.standingRow(x))
		if !x.Silent() {
			reported++
		}
	}
	if len(all) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("office.what"))))
	} else {
		rows = append(rows, widgets.NewSoft(s.Say("office.dash")))
		body = append(body, widgets.NewSplit(widgets.NewTop(widgets.NewMountain(spots, "m", func(i int) { s.Go(ToSite, all[i].ID) }), 470), widgets.NewColumn(rows...), 0.34, 760))
	}
	now := s.Desk.Clock.Now().Wall
	return Page(title, s.Say("office.heard", strconv.Itoa(reported), strconv.Itoa(len(all))), append(body, widgets.NewFlow(220,
		widgets.NewButton(s.Say("month.title"), widgets.Do, func() { s.chooseMonth(now) }),
		widgets.NewButton(s.Say("recall.title"), widgets.Plain, func() { s.Go(ToRecalls, model.ID{}) }),
		widgets.NewButton(s.Say("clash.title"), widgets.Plain, func() { s.Go(ToClashes, model.ID{}) }),
		widgets.NewButton(s.Say("stick.title"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) }),
		widgets.NewButton(s.Say("devices.title"), widgets.Plain, func() { s.Go(ToDevices, model.ID{}) })))...)
}

// spot is a clinic's sign on the mountain.
func (s *Stage) spot(x work.Standing) widgets.Spot {
	out := widgets.Spot{Name: x.Name, Height: float64(x.HeightM), Shape: widgets.Disc, Color: widgets.Blue}
	switch {
	case x.Bad():
		out.Shape, out.Color = widgets.Octagon, widgets.Vermilion
	case x.Silent():
		out.Color, out.Hollow = widgets.InkSoft, true
	case x.Late():
		out.Shape, out.Color = widgets.Square, widgets.Amber
	}
	return out
}

// standingRow is a clinic in one line: its newest record, what was released this month, test, gauge, and what is open.
func (s *Stage) standingRow(x work.Standing) fyne.CanvasObject {
	shape, colour := widgets.Disc, widgets.Blue
	switch {
	case x.Bad():
		shape, colour = widgets.Octagon, widgets.Vermilion
	case x.Silent():
		shape, colour = widgets.Diamond, widgets.InkSoft
	case x.Late():
		shape, colour = widgets.Square, widgets.Brown
	}
	said := join(append([]string{x.Name}, s.standingLines(x)...)...)
	if x.Unproven {
		said = join(x.Name, s.Say("devices.unproven"))
	}
	return widgets.NewRow(shape, colour, count(x.HeightM)+" m", said, "", func() { s.Go(ToSite, x.ID) })
}

// standingLines is what is known of a clinic, a line each.
func (s *Stage) standingLines(x work.Standing) []string {
	stick := s.Say("glance.nothing")
	if x.StickDays >= 0 {
		stick = s.Say("office.stick", strconv.Itoa(x.StickDays))
	}
	out := []string{stick, s.releasedOf(x), s.testOf(x), s.gaugeOf(x)}
	for _, more := range []struct {
		n   int
		key string
	}{{x.Recalls, "office.recalls"}, {x.InDoubt, "office.doubt"}, {x.Stopped, "glance.stopped"}} {
		if more.n > 0 {
			out = append(out, s.Words.Count(more.key, more.n))
		}
	}
	return out
}

func (s *Stage) releasedOf(x work.Standing) string {
	month := s.Say("month." + strconv.Itoa(int(x.Of.Month())))
	if !x.Month.Reported {
		return s.Say("office.released-none", month)
	}
	return s.Say("office.released", month, strconv.Itoa(x.Month.Released), strconv.Itoa(x.Month.Held))
}

func (s *Stage) testOf(x work.Standing) string {
	switch {
	case x.Grew:
		return s.Say("office.grew")
	case x.NegativeAgo < 0:
		return s.Say("office.test-none")
	}
	return s.Say("office.test", strconv.Itoa(x.NegativeAgo))
}

func (s *Stage) gaugeOf(x work.Standing) string {
	switch {
	case x.GaugeAgo < 0:
		return s.Say("office.gauge-never")
	case x.GaugeDue:
		return s.Say("office.gauge-due", strconv.Itoa(x.GaugeAgo))
	case x.HighMilli > 0:
		return s.Say("office.gauge.high", s.Say("office.gauge", strconv.Itoa(x.GaugeAgo)), s.Figure(x.HighMilli), x.HighUnit)
	}
	return s.Say("office.gauge", strconv.Itoa(x.GaugeAgo))
}

// chooseMonth asks which month, and how it is wanted; the last whole one stands first.
func (s *Stage) chooseMonth(now time.Time) {
	var shut func()
	var names []string
	var months []time.Time
	first := time.Date(now.Year(), now.Month(), 1, 12, 0, 0, 0, time.UTC)
	for back := 1; back <= 6; back++ {
		at := first.AddDate(0, -back, 0)
		months = append(months, at)
		names = append(names, s.Say("month.of", s.Say("month."+strconv.Itoa(int(at.Month()))), strconv.Itoa(at.Year())))
	}
	months, names = append(months, first), append(names, s.Say("month.of", s.Say("month."+strconv.Itoa(int(first.Month()))), strconv.Itoa(first.Year())))
	choice := widgets.NewChoice(names, 0, nil)
	take := func(book bool) func() {
		return func() {
			shut()
			s.monthReport(months[max(0, choice.Selected)], book)
		}
	}
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("month.title"), 20, widgets.Ink, true), choice, widgets.NewFlow(150, widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() }),
		widgets.NewButton(s.Say("month.book"), widgets.Plain, take(true)), widgets.NewButton(s.Say("month.sheet"), widgets.Do, take(false)))))
}

// monthReport writes a month of the district as a sheet, or as a workbook.
func (s *Stage) monthReport(at time.Time, book bool) {
	m, err := s.Desk.MonthOf(at.Year(), at.Month())
	if !s.Tell(err) {
		return
	}
	p, err := s.Desk.Place()
	if !s.Tell(err) {
		return
	}
	name := "month-" + m.From.Format("2006-01")
	if book {
		s.Write(name+".xlsx", func(w io.Writer) error { return tables.MonthBook(w, s.Words, m) })
		return
	}
	stock, err := s.Desk.Orders(m)
	if !s.Tell(err) {
		return
	}
	s.Write(name+".pdf", func(w io.Writer) error {
		return paper.MonthReport(w, s.Words, paper.A4, p.Site.Name, m, stock, s.Desk.Clock.Now().Wall)
	})
}
