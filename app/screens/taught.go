package screens

import (
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
	body "mvuke/steam/pot"
)

// Taught shows what a pot's own cycles have taught, with the spread and the cycles that told it.
func Taught(s *Stage, id model.ID) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return Page(s.Say("taught.title"), "", widgets.NewPara(s.Fault(err)))
	}
	pot, ok := place.Pot(id)
	if !ok {
		pot = place.Pots[0]
	}
	known, cycles, err := s.Desk.Learnt(pot.ID)
	if err != nil {
		return Page(s.Say("taught.title"), "", widgets.NewPara(s.Fault(err)))
	}
	objs := []fyne.CanvasObject{widgets.NewNotice(widgets.Blue, s.Say("taught.what"), s.Say("taught.never"))}
	for _, c := range body.Changes(cycles) {
		objs = append(objs, widgets.NewNotice(widgets.Vermilion, s.Say("today.changed-"+string(c.Change), pot.Looks.Name, s.tenth(c.Seen), s.tenth(c.Usual)), s.Say("caution.open")))
	}
	if len(cycles) < body.LeastCycles {
		objs = append(objs, widgets.NewCard(widgets.NewPara(s.Say("taught.few", strconv.Itoa(len(cycles)), strconv.Itoa(body.LeastCycles)))))
	}
	for _, x := range []struct {
		code  string
		f     body.Figure
		scale float64
	}{{"boil", known.Boil, 1}, {"warm", known.Warm, 1e-3}, {"climb", known.Climb, 1}, {"rise", known.Rise, 1e-3}, {"lag", known.Lag, 1},
		{"exhaust", known.Exhaust, 1}, {"vent", known.Vent, 1e6}, {"loss", known.Loss, 1}, {"heat", known.Heat, 1}, {"cool", known.Cool, 1}} {
		objs = append(objs, s.figure(x.code, x.f, x.scale))
	}
	return Page(s.Say("taught.title"), s.Say("load.pot", pot.Looks.Name), append(objs, s.Caution())...)
}

// figure is one learnt parameter on one line: what it is, the middle, the spread, and from which cycles.
func (s *Stage) figure(code string, f body.Figure, scale float64) fyne.CanvasObject {
	name := widgets.NewStrong(s.Say("taught." + code))
	if !f.Known() {
		return widgets.NewCard(widgets.NewColumn(name, widgets.NewSoft(s.Say("taught.none"))))
	}
	from := ""
	for i, n := range f.From {
		if i > 0 {
			from += ", "
		}
		from += count(n)
	}
	return widgets.NewCard(widgets.NewColumn(name,
		widgets.NewPara(s.Say("taught.figure", s.tenth(f.Mid*scale), s.tenth(f.Low*scale), s.tenth(f.High*scale), s.Say("taught.unit."+code))),
		widgets.NewSoft(s.Say("taught.from", from))))
}

func (s *Stage) tenth(v float64) string { return s.Words.Number(v, 1) }
