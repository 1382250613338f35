package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
)

// monthsShown are those of a clinic's page.
const monthsShown = 6

// SitePage is one clinic as the office knows it: its loads, its recalls, and its months. Every figure opens to its rows.
func SitePage(s *Stage, id model.ID) fyne.CanvasObject {
	x, err := s.Desk.StandingAt(id)
	if err != nil {
		return Page(s.Say("office.title"), "", widgets.NewPara(s.Fault(err)))
	}
	if x.ID.IsZero() {
		return Page(s.Say("office.title"), "", widgets.NewPara(s.Say("refuse.no-such-site")))
	}
	body := []fyne.CanvasObject{s.standingRow(x)}
	recalls, err := s.Desk.RecallsAt(id)
	if err != nil {
		return Page(x.Name, "", widgets.NewPara(s.Fault(err)))
	}
	for _, r := range recalls {
		tag, head := s.Say("recall.open"), s.recallHead(r)
		switch {
		case !r.Closed && r.Untold > 0:
			head = join(head, s.Words.Count("office.untold", r.Untold))
		case !r.Closed:
		case !r.Drill && r.Left() > 0: // it is over, and packs of it were never set aside
			tag = s.endedShort(r)
		default:
			continue
		}
		body = append(body, widgets.NewRow(widgets.Octagon, widgets.Vermilion, tag, head, s.Say("recall.found", count(int64(r.Found)), count(int64(r.Total))), func() { s.Go(ToRecall, r.ID) }))
	}
	body = append(body, s.visitsOf(id, x.Name)...)
	body = append(body, widgets.NewStrong(s.Say("cycles.title")))
	cycles, err := s.Desk.CyclesAt(id, cyclesFirst+1)
	if err != nil {
		return Page(x.Name, "", widgets.NewPara(s.Fault(err)))
	}
	body = append(body, s.cycleRows(cycles[:min(len(cycles), cyclesFirst)])...)
	if len(cycles) > cyclesFirst {
		body = append(body, widgets.NewButton(s.Say("site.cycles"), widgets.Quiet, func() { s.cyclesOf(id, x.Name) }))
	}
	if len(cycles) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("glance.nothing"))))
	}
	body = append(body, s.monthsOf(id)...)
	body = append(body, widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToToday, model.ID{}) }))
	return Page(join(x.Name, s.heightOf(x)), "", body...)
}

// cyclesFirst are the cycles that a clinic's page shows.
const cyclesFirst = 6

// cyclesOf lists more of a clinic's cycles, newest first.
func (s *Stage) cyclesOf(id model.ID, name string) {
	cycles, err := s.Desk.CyclesAt(id, cyclesShown)
	if !s.Tell(err) {
		return
	}
	s.Show(Page(join(name, s.Say("cycles.title")), "", append(s.cycleRows(cycles), widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToSite, id) }))...))
}
