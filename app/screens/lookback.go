package screens

import (
	"math"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
)

// LookBack is what a comparison, or an altitude that was put right, says of the loads of a pot: each with the verdict that it had and the one that it has now.
func LookBack(s *Stage, pot model.ID) fyne.CanvasObject {
	all, err := s.Desk.InDoubt(pot)
	if err != nil {
		return Page(s.Say("lookback.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("lookback.how"))}
	stand := 0
	var rows []fyne.CanvasObject
	for _, l := range all {
		shape, colour, tag := widgets.Octagon, widgets.Vermilion, s.Say("lookback.falls")
		if l.Stands {
			stand++
			shape, colour, tag = widgets.Check, widgets.Green, s.Say("lookback.stands")
		}
		least := s.Say("recall.unbounded")
		if l.Now.Guaranteed != nil {
			least = s.Words.Number(math.Floor(*l.Now.Guaranteed*10)/10, 1)
		}
		text := join(s.Say("knot.cycle", count(l.Cycle.Begun.Number)), s.when(l.Cycle), s.Say("lookback.verdicts", s.Say("lookback."+string(l.Was.Verdict)), s.Say("lookback."+string(l.Now.Verdict))),
			s.Say("recall.off", s.Words.Number(math.Floor(l.Now.Held*10)/10, 1), s.Words.Number(l.Now.Asked, 0), s.Words.Number(math.Floor(l.Now.F0*10)/10, 1), least))
		if !l.Stands && !l.Patients() {
			text = join(text, s.Say("recall.shelf-only"))
		}
		rows = append(rows, widgets.NewRow(shape, colour, tag, text, s.Say("go.cycle"), func() { s.Go(ToCycle, l.ID) }))
	}
	if len(all) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("lookback.none"))))
	} else {
		body = append(body, widgets.NewButton(s.Say("lookback.settle", count(int64(stand)), count(int64(len(all)-stand))), widgets.Do, func() {
			s.WithPerson(func() {
				s.reason("lookback.ask", func(why string) {
					if _, err := s.Desk.SettleDoubt(pot, why); s.Tell(err) {
						s.Go(ToRecalls, model.ID{})
					}
				})
			})
		}))
	}
	return Page(s.Say("lookback.title"), "", append(append(body, rows...), s.Caution())...)
}
