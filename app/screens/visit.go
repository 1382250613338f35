package screens

import (
	"encoding/json"
	"io"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// halfVisit is a visit that is not saved yet; it is kept as a draft, tap by tap.
type halfVisit struct {
	Said    map[string]model.VisitCheck
	Actions []model.Action
}

// visit is the officer's page at a clinic: a checklist to be tapped through, and what is agreed on by which day.
func (s *Stage) visit(site model.ID, name string) {
	scope := "visit " + site.String()
	v := halfVisit{Said: map[string]model.VisitCheck{}}
	if kept := s.Draft(scope)["half"]; kept != "" { // what was tapped before another page was looked at, or the program ended
		if err := json.Unmarshal([]byte(kept), &v); err != nil {
			s.Note(err.Error())
		}
	}
	keep := func() {
		b, err := json.Marshal(v)
		if err != nil {
			s.Note(err.Error())
			return
		}
		s.Keep(scope, "half")(string(b))
	}
	leave := func() {
		if err := s.Desk.Store.DropDraft(scope); err != nil {
			s.Note(err.Error())
		}
		s.Go(ToSite, site)
	}
	said := v.Said
	var show func()
	var page fyne.CanvasObject
	show = func() {
		var rows []fyne.CanvasObject
		for _, a := range v.Actions {
			rows = append(rows, widgets.NewRow(widgets.Triangle, widgets.Blue, s.Words.Day(day(a.Due)), a.Text, "", func() {}))
		}
		for _, code := range work.VisitChecks {
			c, told := said[code]
			shape, colour, tag := widgets.Square, widgets.InkSoft, s.Say("visit.ask")
			switch {
			case told && c.Good:
				shape, colour, tag = widgets.Check, widgets.Green, s.Say("visit.good")
			case told:
				shape, colour, tag = widgets.Cross, widgets.Vermilion, s.Say("visit.bad")
			}
			rows = append(rows, widgets.NewRow(shape, colour, tag, s.Say("visit.check."+code), "", func() {
				switch { // not looked at, good, not good, and round
				case !told:
					said[code] = model.VisitCheck{Code: code, Good: true}
				case c.Good:
					said[code] = model.VisitCheck{Code: code}
				default:
					delete(said, code)
				}
				keep()
				show()
			}))
		}
		buttons := widgets.NewFlow(220,
			widgets.NewButton(s.Say("visit.save"), widgets.Do, func() {
				s.WithPerson(func() {
					f := work.VisitForm{Actions: v.Actions}
					for _, code := range work.VisitChecks {
						if c, ok := said[code]; ok {
							f.Checks = append(f.Checks, c)
						}
					}
					if s.Tell(s.Desk.SaveVisit(site, f)) {
						leave()
					}
				})
			}),
			widgets.NewButton(s.Say("visit.action"), widgets.Plain, func() { s.newAction(func(a model.Action) { v.Actions = append(v.Actions, a); keep(); show() }) }),
			widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() {
				if len(said)+len(v.Actions) == 0 {
					leave()
					return
				}
				widgets.AskHarm(s.Win, s.Say("visit.leave"), s.Say("visit.leave.ask"), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
					if sure {
						leave()
					}
				})
			}))
		before := page
		page = Page(s.Say("visit.title", name), "", append([]fyne.CanvasObject{widgets.NewPara(s.Say("visit.how")), buttons}, rows...)...)
		s.Show(page)
		widgets.SameScroll(before, page) // a tap on a line moves nothing away
	}
	show()
}

// newAction asks what is to be done, and in how many days.
func (s *Stage) newAction(then func(model.Action)) {
	var shut func()
	what, days := widgets.NewField(s.Say("visit.what"), "", nil), widgets.NewField(s.Say("visit.days"), "14", nil)
	widgets.Chain(what, days)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		n, err := steam.Number(days.Text())
		switch {
		case what.Text() == "":
			what.SetError(s.Say("refuse.action-text"))
		case err != nil || n < 0 || n > 730:
			days.SetError(s.Say("refuse.action-due"))
		default:
			shut()
			then(model.Action{Text: what.Text(), Due: s.Desk.Clock.Now().Wall.Add(time.Duration(n*24) * time.Hour).UnixMilli()})
		}
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("visit.action"), 20, widgets.Ink, true), what, days, widgets.NewFlow(160, cancel, save)))
	what.Focus()
}

// visitsOf are a clinic's last visits and what waits of them.
func (s *Stage) visitsOf(site model.ID, name string) (out []fyne.CanvasObject) {
	out = append(out, widgets.NewFlow(220, widgets.NewButton(s.Say("visit.new"), widgets.Plain, func() { s.visit(site, name) }),
		widgets.NewButton(s.Say("visit.paper"), widgets.Plain, func() { s.visitSheet(site, name, nil) })))
	open, err := s.Desk.OpenActions(site)
	if err != nil {
		return append(out, widgets.NewPara(s.Fault(err)))
	}
	for _, a := range open {
		shape, colour, tag := widgets.Square, widgets.InkSoft, s.Say("visit.due")
		if a.Overdue {
			shape, colour, tag = widgets.Octagon, widgets.Vermilion, s.Say("visit.overdue")
		}
		out = append(out, widgets.NewRow(shape, colour, tag+" "+s.Words.Day(day(a.Due)), a.Text, "", func() {}))
	}
	visits, err := s.Desk.Visits(site, 3)
	if err != nil {
		return append(out, widgets.NewPara(s.Fault(err)))
	}
	for _, v := range visits {
		bad := 0
		for _, c := range v.Checks {
			if !c.Good {
				bad++
			}
		}
		out = append(out, widgets.NewRow(widgets.Check, widgets.InkSoft, s.Words.Day(v.When), s.Say("visit.was", s.Desk.Person(v.By.Body().Person).Name, count(int64(len(v.Checks))), count(int64(bad))), s.Say("visit.paper"), func() { s.visitSheet(site, name, &v) }))
	}
	return out
}

// visitSheet writes the sheet of a visit: empty, with what is known here of the clinic, or as a visit was written down.
func (s *Stage) visitSheet(site model.ID, name string, said *work.VisitView) {
	v := paper.Visit{Site: name, Said: said}
	var err error
	if v.Open, err = s.Desk.OpenActions(site); !s.Tell(err) {
		return
	}
	file := "visit-" + name + ".pdf"
	if said != nil {
		file = "visit-" + name + "-" + said.When.Format("2006-01-02") + ".pdf"
		v.By = s.Desk.Person(said.By.Body().Person).Name
	} else {
		x, err := s.Desk.StandingAt(site)
		if !s.Tell(err) {
			return
		}
		if !x.ID.IsZero() {
			v.Known = s.standingLines(x, s.releasedOf(s.Desk.LastMonth(x)))
		}
	}
	s.Write(file, func(w io.Writer) error { return paper.VisitSheet(w, s.Words, paper.A4, v, s.Desk.Clock.Now().Wall) })
}
