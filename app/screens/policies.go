package screens

import (
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Policies are the district's choices, each with the source it rests on: numbers are data, and whoever changes one says why.
func Policies(s *Stage) fyne.CanvasObject {
	rules, err := s.Desk.Rules()
	if err != nil {
		return Page(s.Say("setup.policy"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("policy.what"), s.Say("policy.who"))}
	for _, d := range model.DefaultPolicies() {
		p := rules[d.Code]
		body = append(body, widgets.NewRow(widgets.Square, widgets.Blue, s.policyValue(p), s.Say("policy."+p.Code), s.Say("policy.change"), func() {
			s.WithPerson(func() { s.statePolicy(p) })
		}), widgets.NewSoft(p.Source))
	}
	return Page(s.Say("setup.policy"), "", body...)
}

// policyValue is a policy's number or switch, in words.
func (s *Stage) policyValue(p model.Policy) string {
	switch {
	case !p.On:
		return s.Say("setup.policy.off")
	case work.SwitchOnly(p.Code):
		return s.Say("setup.policy.on")
	case p.Code == model.PolicyDose:
		return s.Figure(p.Value)
	}
	return count(p.Value)
}

// statePolicy asks for the number or the switch, and for the source.
func (s *Stage) statePolicy(p model.Policy) {
	var shut func()
	value := widgets.NewField(s.Say("policy."+p.Code), "", nil)
	value.SetText(s.policyValue(p))
	on := widgets.NewChoice([]string{s.Say("setup.policy.on"), s.Say("setup.policy.off")}, -1, nil)
	source := widgets.NewField(s.Say("policy.source"), "", nil)
	widgets.Chain(value, source)
	what := fyne.CanvasObject(value)
	if work.SwitchOnly(p.Code) {
		what = widgets.NewColumn(widgets.NewPara(s.Say("policy."+p.Code)), on)
	}
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		x := model.Policy{Code: p.Code, On: true, Source: strings.TrimSpace(source.Text())}
		if work.SwitchOnly(p.Code) {
			if on.Selected < 0 {
				s.Message(s.Say("refuse.choose", s.Say("setup.policy.on"), s.Say("setup.policy.off")))
				return
			}
			x.On, x.Value = on.Selected == 0, p.Value
		} else {
			milli, ok := s.Number(value)
			if !ok {
				return
			}
			if x.Value = milli / 1000; p.Code == model.PolicyDose {
				x.Value = milli
			}
		}
		if err := s.Desk.SetPolicy(x); err != nil {
			source.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("policy.change"), 20, widgets.Ink, true), what, source, widgets.NewSoft(s.Say("policy.sure")),
		widgets.NewFlow(180, cancel, save)))
}
