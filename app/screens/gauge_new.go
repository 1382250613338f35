package screens

import (
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// newGauge asks what the dial of a gauge that was screwed on looks like. It is an instrument of its own, and was compared with nothing yet.
func (s *Stage) newGauge(pot work.Pot) {
	var names, marks []string
	at := 0
	for i, u := range steam.DialUnits {
		names = append(names, string(u))
		if string(u) == pot.Gauge.Unit {
			at = i
		}
	}
	unit := widgets.NewChoice(names, at, nil)
	marks = append(marks, s.Say("setup.gauge.class.none"))
	for _, c := range classes[1:] {
		marks = append(marks, s.Words.Number(c, 1))
	}
	class := widgets.NewChoice(marks, 0, nil)
	span, line, serial := widgets.NewField(s.Say("setup.gauge.span"), "", nil), widgets.NewField(s.Say("setup.gauge.line"), "", nil), widgets.NewField(s.Say("setup.gauge.serial"), "", nil)
	widgets.Chain(span, line, serial)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		g := model.GaugeLooks{Serial: strings.TrimSpace(serial.Text()), Unit: names[max(0, unit.Selected)], ClassMilli: int64(classes[max(class.Selected, 0)] * 1000)}
		if class.Selected <= 0 {
			g.ClassMilli = -1
		}
		var ok bool
		if g.SpanMilli, ok = s.Number(span); !ok {
			return
		}
		if g.LineMilli, ok = s.Number(line); !ok {
			return
		}
		known, ok, err := s.Desk.KnownGauge(pot, g.Serial)
		switch {
		case err == nil && ok && g.Serial != "":
			s.knownGauge(pot, known, serial)
			return
		case err == nil:
			err = s.Desk.NewGauge(pot, g)
		}
		if err != nil {
			serial.SetError(s.Fault(err))
			return
		}
		s.newlyOn(s.Say("gauge.new.then"))
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { s.Go(ToCompare, pot.ID) })
	s.Show(Page(s.Say("gauge.new"), "", unit, widgets.NewFlow(190, span, line, serial), widgets.NewPara(s.Say("setup.gauge.class")), class, widgets.NewFlow(180, cancel, save)))
	span.Focus()
}

// newlyOn says what is to be done once another gauge is on a pot.
func (s *Stage) newlyOn(then string) {
	s.Go(ToTests, model.ID{})
	s.Message(then)
}

// knownGauge asks whether a gauge of that number is the one that is known here: then it comes back with all that was found of it.
func (s *Stage) knownGauge(pot, known work.Pot, serial *widgets.Field) {
	widgets.Ask(s.Win, s.Say("gauge.new"), s.Say("gauge.again.ask", known.Gauge.Serial, s.Words.Number(float64(known.Gauge.SpanMilli)/1000, 1), known.Gauge.Unit), s.Say("do.yes"), s.Say("do.no"), func(same bool) {
		if !same {
			serial.SetError(s.Say("gauge.other-number"))
			return
		}
		widgets.Ask(s.Win, s.Say("gauge.new"), s.Say("gauge.off.ask", known.Gauge.Serial), s.Say("gauge.off.yes"), s.Say("gauge.off.no"), func(off bool) {
			if s.Tell(s.Desk.OnThePot(pot, known.Looks.Gauge, !off)) {
				s.newlyOn(s.Say("gauge.on.then"))
			}
		})
	})
}

// whichGauge asks which of the gauges that devices told of is on a pot.
func (s *Stage) whichGauge(pot work.Pot) fyne.CanvasObject {
	all, err := s.Desk.MaybeOn(pot)
	if err != nil {
		return Page(s.Say("gauge.which"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Vermilion, s.Say("gauge.which"), s.Say("gauge.which.how"))}
	for _, x := range all {
		body = append(body, widgets.NewRow(widgets.Square, widgets.Ink, "", s.DialOf(x), s.Say("gauge.on"), func() {
			s.WithPerson(func() {
				if s.Tell(s.Desk.OnThePot(pot, x.Looks.Gauge, false)) {
					s.newlyOn(s.Say("gauge.on.then"))
				}
			})
		}))
	}
	body = append(body, widgets.NewButton(s.Say("gauge.new"), widgets.Quiet, func() { s.WithPerson(func() { s.newGauge(pot) }) }), s.Caution())
	return Page(s.Say("gauge.which"), s.Say("load.pot", pot.Looks.Name), body...)
}
