package screens

import (
	"strings"

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
		if err := s.Desk.NewGauge(pot, g); err != nil {
			span.SetError(s.Fault(err))
			return
		}
		s.Go(ToTests, model.ID{})
		s.Message(s.Say("gauge.new.then"))
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { s.Go(ToCompare, pot.ID) })
	s.Show(Page(s.Say("gauge.new"), "", unit, widgets.NewFlow(190, span, line, serial), widgets.NewPara(s.Say("setup.gauge.class")), class, widgets.NewFlow(180, cancel, save)))
	span.Focus()
}
