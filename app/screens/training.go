package screens

import (
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
)

// AllLessons is the number of lessons of the practice pot.
const AllLessons = 10

// training is what a person has practised, in words.
func (s *Stage) training(p work.Tile) string {
	if p.Gone {
		return ""
	}
	t, err := s.Desk.Training(p.ID)
	if err != nil {
		return s.Fault(err)
	}
	signed := s.Say("people.unsigned")
	if !t.Signed.IsZero() {
		signed = s.Say("people.signed", t.By)
	}
	return join(s.Say("people.lessons", strconv.Itoa(len(t.Lessons)), strconv.Itoa(AllLessons)), signed)
}

// person asks what is to be done about one: let them act alone, or take them off the tiles.
func (s *Stage) person(p work.Tile) {
	var shut func()
	ask := func(key, question string, do func() error) func() {
		return func() {
			shut()
			s.WithPerson(func() {
				widgets.Ask(s.Win, s.Say(key), s.Say(question, p.Person.Name), s.Say("do.yes"), s.Say("do.no"), func(yes bool) {
					if yes && s.Tell(do()) {
						s.Again()
					}
				})
			})
		}
	}
	objs := []fyne.CanvasObject{widgets.NewBig(p.Person.Name, 22, widgets.Ink, true), widgets.NewPara(s.training(p)),
		widgets.NewButton(s.Say("people.sign"), widgets.Do, ask("people.sign", "people.sign.ask", func() error { return s.Desk.SignOff(p.ID) })),
		widgets.NewButton(s.Say("who.retire"), widgets.Plain, ask("who.retire", "who.retire.ask", func() error { return s.Desk.RetirePerson(p.ID, "") })),
		widgets.NewButton(s.Say("pin.set"), widgets.Plain, func() { shut(); s.WithPerson(func() { s.setPIN(p.ID, p.Person.Name) }) }),
		widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })}
	shut = s.Modal(widgets.NewColumn(objs...))
}
