package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Incidents lists what hurt somebody or could have, and takes a new one on one form.
func Incidents(s *Stage) fyne.CanvasObject {
	list, err := s.Desk.IncidentList(100)
	if err != nil {
		return Page(s.Say("incident.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("incident.why")),
		widgets.NewButton(s.Say("incident.new"), widgets.Do, func() { s.WithPerson(func() { s.Show(s.incident()) }) })}
	for _, x := range list {
		when := s.Say("knot.doubt")
		if x.Known {
			when = s.Words.Day(x.When)
		}
		action, tap := "", func() {}
		switch {
		case !x.Pack.IsZero():
			action, tap = s.Say("packs.open"), func() { s.Go(ToPack, x.Pack) }
		case !x.Cycle.IsZero():
			action, tap = s.Say("go.cycle"), func() { s.Go(ToCycle, x.Cycle) }
		}
		body = append(body, widgets.NewRow(widgets.Octagon, widgets.Vermilion, when,
			join(s.Say("incident."+string(x.Code)), x.Text, s.Desk.Person(x.By.Body().Person).Name), action, tap))
	}
	if len(list) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("incident.none"))))
	}
	return Page(s.Say("incident.title"), "", append(body, s.Caution())...)
}

// incident is the form: what, in which cycle or with which pack, and what was done. What follows is asked before it is saved.
func (s *Stage) incident() fyne.CanvasObject {
	const scope = "incident"
	kept := s.Draft(scope)
	ids, err := s.Desk.LatestCycles(3)
	if err != nil {
		return Page(s.Say("incident.new"), "", widgets.NewPara(s.Fault(err)))
	}
	cycles := []string{s.Say("incident.no-cycle")}
	for _, id := range ids {
		c, err := s.Desk.Cycle(id)
		if err != nil {
			return Page(s.Say("incident.new"), "", widgets.NewPara(s.Fault(err)))
		}
		cycles = append(cycles, s.Say("knot.cycle", count(c.Begun.Number)))
	}
	var names []string
	for _, code := range work.Incidents {
		names = append(names, s.Say("incident."+string(code)))
	}
	what, which := widgets.NewChoice(names, -1, nil), widgets.NewChoice(cycles, -1, nil)
	pack := widgets.NewField(s.Say("incident.pack"), "", s.Keep(scope, "pack"))
	pack.SetText(kept["pack"])
	text := widgets.NewLines(s.Say("incident.text"), "", kept["text"], s.Keep(scope, "text"))
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if what.Selected < 0 || which.Selected < 0 {
			s.Message(s.Say("refuse.choose", s.Say("incident.what"), s.Say("incident.cycle")))
			return
		}
		f := work.IncidentForm{Code: work.Incidents[what.Selected], Pack: pack.Text(), Text: text.Text()}
		if which.Selected > 0 {
			f.Cycle = ids[which.Selected-1]
		}
		widgets.Ask(s.Win, s.Say("incident."+string(f.Code)), s.Say(s.follows(f)), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if !sure || !s.Tell(s.Desk.Report(f)) {
				return
			}
			if err := s.Desk.Store.DropDraft(scope); err != nil {
				s.Note(err.Error())
			}
			s.Go(ToIncidents, model.ID{})
			if f.Code == model.Burn {
				s.Message(s.Say("caution.burn"))
			}
		})
	})
	return Page(s.Say("incident.new"), "", widgets.NewNotice(widgets.Vermilion, s.Say("caution.burn"), s.Say("incident.first")),
		widgets.NewStrong(s.Say("incident.what")), what, widgets.NewStrong(s.Say("incident.cycle")), which, pack, text, save)
}

// follows says what an incident does to the register.
func (s *Stage) follows(f work.IncidentForm) string {
	switch {
	case f.Code == model.UnsterileUse:
		return "incident.then.pack"
	case f.Code.Bad() && !f.Cycle.IsZero():
		return "incident.then.load"
	}
	return "incident.then.note"
}
