package screens

import (
	"slices"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// Altitude shows every way by which the site's altitude is known beside what the marks rest on. Where two do not agree, the mark is made for
// the higher until somebody in charge settles it.
func Altitude(s *Stage) fyne.CanvasObject {
	all, err := s.Desk.Heights()
	if err != nil {
		return Page(s.Say("height.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("height.why")),
		widgets.NewButton(s.Say("height.new"), widgets.Do, func() { s.WithPerson(s.tellHeight) })}
	open := slices.ContainsFunc(all, func(h work.Height) bool { return !h.Present && !h.Settled && !h.Agrees })
	for _, h := range all {
		body = append(body, s.heightRow(h, open))
	}
	return Page(s.Say("height.title"), "", append(body, s.Caution())...)
}

func (s *Stage) heightRow(h work.Height, open bool) fyne.CanvasObject {
	shape, colour, tag, action := widgets.Check, widgets.Green, s.Say("height.agrees"), s.Say("height.use")
	switch {
	case h.Present && open:
		shape, colour, tag = widgets.Disc, widgets.Blue, s.Say("height.present")
	case h.Present:
		shape, colour, tag, action = widgets.Disc, widgets.Blue, s.Say("height.present"), ""
	case h.Settled:
		shape, colour, tag = widgets.Square, widgets.InkSoft, s.Say("height.settled")
	case !h.Agrees:
		shape, colour, tag = widgets.Octagon, widgets.Vermilion, s.Say("height.differs")
	}
	when := s.Say("knot.doubt")
	if at, known := s.Desk.ToldOn(h); known {
		when = s.Words.Day(at)
	}
	seen := ""
	switch {
	case h.BoilingMilli != 0:
		seen = s.Say("height.boils", s.Figure(h.BoilingMilli))
	case h.PressurePa != 0:
		seen = s.Say("height.hpa", s.Words.Number(float64(h.PressurePa)/100, 1))
	}
	return widgets.NewRow(shape, colour, tag, join(s.Say("height.line", count(h.HeightM), count(h.WithinM), s.Say("setup.how."+string(h.How))), seen, when), action, func() {
		if h.Present && !open {
			return
		}
		s.WithPerson(func() {
			widgets.Ask(s.Win, s.Say("height.use"), s.Say("height.use.ask", count(h.HeightM)), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
				if sure {
					s.done(s.Desk.SettleHeight(h))
				}
			})
		})
	})
}

var heightWays = []model.HeightHow{model.ByMap, model.BySurvey, model.ByBarometer, model.ByBoiling}

// tellHeight asks what was seen, and says before saving what follows.
func (s *Stage) tellHeight() {
	var shut func()
	var names []string
	for _, w := range heightWays {
		names = append(names, s.Say("setup.how."+string(w)))
	}
	what := widgets.NewField(s.Say("height.ask.map"), "", nil)
	hints := widgets.NewSoft("")
	how := widgets.NewChoice(names, -1, func(i int) {
		what.SetLabel(s.Say("height.ask." + string(heightWays[i])))
		hints.SetText(s.Say("height.how." + string(heightWays[i])))
	})
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if how.Selected < 0 {
			s.Message(s.Say("refuse.one", s.Say("setup.height.how")))
			return
		}
		f := work.HeightForm{How: heightWays[how.Selected]}
		switch f.How {
		case model.ByMap, model.BySurvey:
			h, err := steam.Altitude(what.Text())
			if err != nil {
				what.SetError(s.heightFault(what.Text()))
				return
			}
			f.HeightM = int64(h + 0.5)
		default:
			milli, ok := s.Number(what)
			if !ok {
				return
			}
			f.Pressure, f.Boiling = steam.Absolute(milli)/10, steam.Celsius(milli)/1000
		}
		told, err := s.Desk.TellHeight(f)
		if err != nil {
			what.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
		s.Message(s.Say("height.told", count(told.HeightM), count(told.WithinM)))
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("height.new"), 20, widgets.Ink, true), how, what, hints, widgets.NewFlow(180, cancel, save)))
}
