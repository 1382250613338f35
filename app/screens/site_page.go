package screens

import (
	"strconv"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// monthsShown are those of a clinic's page.
const monthsShown = 6

// SitePage is one clinic as the office knows it: its loads, its recalls, and its months. Every figure opens to its rows.
func SitePage(s *Stage, id model.ID) fyne.CanvasObject {
	all, err := s.Desk.Standings()
	if err != nil {
		return Page(s.Say("office.title"), "", widgets.NewPara(s.Fault(err)))
	}
	var x work.Standing
	for _, y := range all {
		if y.ID == id {
			x = y
		}
	}
	if x.ID.IsZero() {
		return Page(s.Say("office.title"), "", widgets.NewPara(s.Say("refuse.no-such-site")))
	}
	body := []fyne.CanvasObject{s.standingRow(x)}
	recalls, err := s.Desk.Recalls()
	if err != nil {
		return Page(x.Name, "", widgets.NewPara(s.Fault(err)))
	}
	for _, r := range recalls {
		if r.Site == id && !r.Closed {
			body = append(body, widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("recall.open"), s.recallHead(r), s.Say("recall.found", count(int64(r.Found)), count(int64(r.Total))), func() { s.Go(ToRecall, r.ID) }))
		}
	}
	body = append(body, s.visitsOf(id, x.Name)...)
	body = append(body, s.monthsOf(id)...)
	body = append(body, widgets.NewStrong(s.Say("cycles.title")))
	cycles, err := s.Desk.CyclesAt(id, 12)
	if err != nil {
		return Page(x.Name, "", widgets.NewPara(s.Fault(err)))
	}
	for _, c := range cycles {
		state, shape, colour := State(c)
		body = append(body, widgets.NewRow(shape, colour, s.Say("state."+state), s.Say("cycles.row", count(c.Begun.Number), s.when(c)), s.Say("go.cycle"), func() { s.Go(ToCycle, c.State.Ref.ID) }))
	}
	if len(cycles) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("glance.nothing"))))
	}
	body = append(body, widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToToday, model.ID{}) }))
	return Page(join(x.Name, s.Say("pot.height", count(x.HeightM))), "", body...)
}

// monthsOf are bars of the release rate, the newest last; a month that is not here has none.
func (s *Stage) monthsOf(id model.ID) []fyne.CanvasObject {
	var bars []widgets.TrendBar
	first := s.Desk.Clock.Now().Wall.AddDate(0, -monthsShown+1, 0)
	for i := range monthsShown {
		at := time.Date(first.Year(), first.Month(), 1, 0, 0, 0, 0, time.UTC).AddDate(0, i, 0)
		f, err := s.Desk.MonthAt(id, at.Year(), at.Month())
		if err != nil {
			return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
		}
		b := widgets.TrendBar{Name: s.Say("month." + strconv.Itoa(int(at.Month()))), Text: "–", Missing: true}
		if rate, ok := f.Rate(); ok {
			b = widgets.TrendBar{Name: b.Name, Share: rate / 100, Text: strconv.Itoa(f.Released) + "/" + strconv.Itoa(f.Held)}
		}
		bars = append(bars, b)
	}
	return []fyne.CanvasObject{widgets.NewStrong(s.Say("office.trend")), widgets.NewTrend(bars)}
}
