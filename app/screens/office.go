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

// officeFew is how many clinics stand on the mountain by name, and how many rows are shown at once where there are more.
const officeFew = 16

// officeToday is what waits at the district's office, and how each clinic stands by what has come in: on the mountain, since altitude is what differs, and as rows with what matters
// first. Every row opens the clinic's page.
func (s *Stage) officeToday(title string, lines []work.Line) fyne.CanvasObject {
	all, err := s.Desk.StandingsSoon()
	if err != nil {
		return Page(title, "", widgets.NewPara(s.Fault(err)))
	}
	var body []fyne.CanvasObject
	for _, l := range lines {
		if !l.Elsewhere {
			body = append(body, todayRow(s, l))
		}
	}
	heard := 0
	for _, x := range all {
		if !x.Silent() {
			heard++
		}
	}
	list := newOfficeList(s, all)
	now := s.Desk.Clock.Now().Wall
	acts := widgets.NewFlow(220,
		widgets.NewButton(s.Say("month.title"), widgets.Do, func() { s.chooseMonth(now) }),
		widgets.NewButton(s.Say("stick.title"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) }),
		widgets.NewButton(s.Say("recall.title"), widgets.Plain, func() { s.Go(ToRecalls, model.ID{}) }),
		widgets.NewButton(s.Say("clash.title"), widgets.Plain, func() { s.Go(ToClashes, model.ID{}) }),
		widgets.NewButton(s.Say("devices.title"), widgets.Plain, func() { s.Go(ToDevices, model.ID{}) }))
	switch {
	case len(all) == 0:
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("office.what"))), acts)
	case len(all) <= officeFew:
		body = append(body, widgets.NewSplit(widgets.NewColumn(widgets.NewTop(s.mountain(all), 470), acts), list.rows, 0.34, 760))
	default:
		body = append(body, widgets.NewSplit(widgets.NewColumn(acts, list.bands()), widgets.NewColumn(list.finder(), list.rows), 0.34, 760))
	}
	return Page(title, s.Say("office.heard", strconv.Itoa(heard), strconv.Itoa(len(all))), body...)
}

// mountain shows few clinics by name where they lie, each with the sign of its row. Where one lies nobody knows yet, it stands among the rows only.
func (s *Stage) mountain(all []work.Standing) fyne.CanvasObject {
	var spots []widgets.Spot
	var ids []model.ID
	for _, x := range all {
		if _, shape, colour := standingKind(x); x.HeightKnown {
			spots, ids = append(spots, widgets.Spot{Name: x.Name, Height: float64(x.HeightM), Shape: shape, Color: colour}), append(ids, x.ID)
		}
	}
	return widgets.NewMountain(spots, "m", func(i int) { s.Go(ToSite, ids[i]) })
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
