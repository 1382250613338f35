package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// References lists the reference gauges: instruments of their own, each with its certificate, its error and the day of its own check.
func References(s *Stage) fyne.CanvasObject {
	all, err := s.Desk.References()
	if err != nil {
		return Page(s.Say("reference.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("reference.why")),
		widgets.NewButton(s.Say("reference.new"), widgets.Do, func() { s.WithPerson(func() { s.saveReference(work.Reference{}) }) })}
	for _, r := range all {
		shape, colour, tag := widgets.Check, widgets.Green, s.Say("reference.good")
		switch {
		case r.Overdue:
			shape, colour, tag = widgets.Triangle, widgets.Vermilion, s.Say("reference.due")
		case r.Two:
			shape, colour, tag = widgets.Triangle, widgets.Vermilion, s.Say("sets.two")
		}
		body = append(body, widgets.NewRow(shape, colour, tag, join(r.Name, s.referenceLine(r)), s.Say("reference.change"), func() {
			s.WithPerson(func() { s.saveReference(r) })
		}))
	}
	return Page(s.Say("reference.title"), "", body...)
}

func (s *Stage) referenceLine(r work.Reference) string {
	return s.Say("reference.line", s.Figure(r.ErrorMilli), r.Unit, r.Certificate, s.Words.Day(day(r.Due)))
}

// saveReference asks what its certificate says.
func (s *Stage) saveReference(r work.Reference) {
	var shut func()
	field := func(key, text string) *widgets.Field {
		f := widgets.NewField(s.Say(key), "", nil)
		f.SetText(text)
		return f
	}
	off, due := "", ""
	if !r.ID.IsZero() {
		off, due = s.Figure(r.ErrorMilli), day(r.Due).Format("2006-01-02")
	}
	name, wrong, cert := field("reference.name", r.Name), field("reference.error", off), field("reference.certificate", r.Certificate)
	until := field("reference.until", due)
	widgets.Chain(name, wrong, cert, until)
	var units []string
	at := -1
	for i, u := range steam.DialUnits {
		units = append(units, string(u))
		if string(u) == r.Unit {
			at = i
		}
	}
	unit := widgets.NewChoice(units, at, nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		milli, ok := s.Number(wrong)
		last, dated := endOf(until.Text())
		switch {
		case !ok:
			return
		case unit.Selected < 0:
			s.Message(s.Say("refuse.one", s.Say("setup.gauge.unit")))
			return
		case !dated:
			until.SetError(s.Say("refuse.month"))
			return
		}
		_, err := s.Desk.SaveReference(r.ID, model.Reference{Name: name.Text(), Unit: units[unit.Selected], ErrorMilli: milli, Certificate: cert.Text(), Due: last.UnixMilli()})
		if err != nil {
			name.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	buttons := []fyne.CanvasObject{cancel, save}
	if !r.ID.IsZero() {
		buttons = append(buttons, widgets.NewButton(s.Say("reference.wrong"), widgets.Harm, func() { shut(); s.referenceWrong(r) }))
	}
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("reference.new"), 20, widgets.Ink, true), widgets.NewFlow(220, name, cert, wrong, until), unit,
		widgets.NewSoft(s.Say("reference.then")), widgets.NewFlow(180, buttons...)))
	name.Focus()
}

// referenceWrong asks by how much a reference showed too much at its own check, and opens its comparisons again.
func (s *Stage) referenceWrong(r work.Reference) {
	var shut func()
	by := widgets.NewField(s.Say("reference.wrong.by", r.Unit), "", nil)
	save := widgets.NewButton(s.Say("reference.wrong"), widgets.Harm, func() {
		milli, ok := s.Number(by)
		if !ok {
			return
		}
		n, err := s.Desk.ReferenceWrong(r.ID, float64(milli)/1000)
		if err != nil {
			by.SetError(s.Fault(err))
			return
		}
		shut()
		s.Go(ToToday, model.ID{})
		s.Message(s.Words.Count("reference.wrong.then", n))
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("reference.wrong"), 20, widgets.Ink, true), widgets.NewPara(s.Say("reference.wrong.how")), by, widgets.NewFlow(180, cancel, save)))
	by.Focus()
}
