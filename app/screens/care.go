package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Care is the plan of a pot's upkeep: each task with the day it was done and the day it is due, what is overdue first in its look.
func Care(s *Stage, id model.ID) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return Page(s.Say("care.title"), "", widgets.NewPara(s.Fault(err)))
	}
	pot, ok := place.Pot(id)
	if !ok {
		pot = place.Pots[0]
	}
	tasks, err := s.Desk.Care(pot)
	if err != nil {
		return Page(s.Say("care.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("care.cold"), s.Say("care.maker"))}
	for _, t := range tasks {
		body = append(body, s.careRow(pot, t))
	}
	return Page(s.Say("care.title"), s.Say("load.pot", pot.Looks.Name), append(body, s.Caution())...)
}

func (s *Stage) careRow(pot work.Pot, t work.Task) fyne.CanvasObject {
	shape, colour, tag := widgets.Check, widgets.Green, s.Say("care.good")
	when := ""
	switch {
	case t.AtOnce:
		shape, colour, tag = widgets.Octagon, widgets.Vermilion, s.Say("care.now")
	case !t.Ever:
		shape, colour, tag = widgets.Square, widgets.InkSoft, s.Say("care.open")
	case !t.Known:
		shape, colour, tag = widgets.Triangle, widgets.InkSoft, s.Say("knot.doubt")
	case t.Due():
		shape, colour, tag = widgets.Triangle, widgets.Vermilion, s.Say("care.due", count(-t.Left))
	}
	if t.Ever {
		when = s.Say("care.last", s.Words.Day(t.Last), count(t.Every))
	}
	tap := func() { s.WithPerson(func() { s.careDone(pot, t) }) }
	switch t.Code {
	case model.CareValve:
		tap = func() { s.WithPerson(func() { s.liftValve(pot) }) }
	case model.CareGauge:
		tap = func() { s.Go(ToCompare, pot.ID) }
	}
	return widgets.NewRow(shape, colour, tag, join(s.Say("care."+string(t.Code)), when), s.Say("care.do"), tap)
}

// careDone says what to look at, and records that it was done, with the part that it took.
func (s *Stage) careDone(pot work.Pot, t work.Task) {
	var shut func()
	part := widgets.NewChoice([]string{s.Say("care.part.none"), s.Say("care.part.seal"), s.Say("care.part.other")}, -1, nil)
	note := widgets.NewField(s.Say("care.note"), "", nil)
	save := widgets.NewButton(s.Say("care.save"), widgets.Do, func() {
		if part.Selected < 0 {
			s.Message(s.Say("refuse.one", s.Say("care.part")))
			return
		}
		var took model.Consumable
		if part.Selected == 1 {
			took = model.StockSeals
		}
		if err := s.Desk.CareDone(pot, t.Code, took, note.Text()); err != nil {
			note.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("care."+string(t.Code)), 20, widgets.Ink, true), widgets.NewPara(s.Say("care."+string(t.Code)+".how")),
		widgets.NewStrong(s.Say("care.part")), part, note, widgets.NewFlow(180, cancel, save)))
}
