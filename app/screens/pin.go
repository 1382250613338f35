package screens

import (
	"mvuke/app/widgets"
	"mvuke/model"
)

// askPIN asks for a person's PIN and goes on when it is theirs.
func (s *Stage) askPIN(person model.ID, name string, then func()) {
	var shut func()
	said := widgets.NewStrong(s.Say("pin.ask", name))
	var pad *widgets.NumPad
	pad = widgets.NewNumPad(s.Say("do.ok"), nil, func(text string) {
		if err := s.Desk.TryPIN(person, text); err != nil {
			said.SetText(s.Fault(err))
			pad.SetText("")
			return
		}
		shut()
		then()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(said, pad, widgets.NewSoft(s.Say("pin.forgot")), cancel))
	s.Win.Canvas().Focus(pad)
}

// setPIN asks for a new PIN; an empty one takes it away.
func (s *Stage) setPIN(person model.ID, name string) {
	var shut func()
	pin := widgets.NewField(s.Say("pin.new"), "", nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if err := s.Desk.SetPIN(person, pin.Text()); err != nil {
			pin.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("pin.title", name), 20, widgets.Ink, true), widgets.NewPara(s.Say("pin.what")), pin, widgets.NewFlow(180, cancel, save)))
	pin.Focus()
}
