package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
)

// AskWho shows the people's tiles; a tap says who acts, and goes on.
func (s *Stage) AskWho(then func()) {
	people, err := s.Desk.People()
	if !s.Tell(err) {
		return
	}
	var shut func()
	tiles := []fyne.CanvasObject{}
	for _, p := range people {
		if p.Gone {
			continue
		}
		act := func() {
			s.Desk.Act(p.ID)
			if s.Acts != nil {
				s.Acts()
			}
			s.Note("acting: " + p.Person.Name)
			if p.Person.Language != "" && p.Person.Language != s.Words.Language {
				s.Speak(p.Person.Language)
			}
			then()
		}
		tiles = append(tiles, widgets.NewButton(p.Person.Name, widgets.Plain, func() {
			shut()
			if s.Desk.NeedsPIN(p.ID) {
				s.askPIN(p.ID, p.Person.Name, act)
				return
			}
			act()
		}))
	}
	why := s.Say("who.why")
	if s.Desk.Acting().IsZero() || !s.Desk.Idle() { // nobody was chosen yet, or somebody asked for another
		why = s.Say("who.first")
	}
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("who.ask"), 22, widgets.Ink, true),
		widgets.NewPara(why), widgets.NewFlow(180, tiles...), cancel))
}

// People is the list of those who act, with adding and retiring.
func People(s *Stage) fyne.CanvasObject {
	people, err := s.Desk.People()
	if err != nil {
		return Page(s.Say("people.title"), "", widgets.NewPara(s.Fault(err)))
	}
	rows := []fyne.CanvasObject{widgets.NewPara(s.Say("people.hint")),
		widgets.NewButton(s.Say("who.add"), widgets.Do, func() { s.WithPerson(s.addPerson) })}
	for _, p := range people {
		tag, shape, colour, action := s.Say("role."+string(role(p.Person))), widgets.Disc, widgets.Blue, s.Say("people.open")
		if p.Gone {
			tag, shape, colour, action = s.Say("who.gone"), widgets.Square, widgets.InkSoft, ""
		}
		rows = append(rows, widgets.NewRow(shape, colour, tag, join(p.Person.Name, s.training(p)), action, func() {
			if !p.Gone {
				s.person(p)
			}
		}))
	}
	return Page(s.Say("people.title"), "", rows...)
}

var roles = []model.Role{model.RoleRecorder, model.RoleReleaser, model.RoleInCharge}

func role(p model.Person) model.Role {
	if len(p.Roles) == 0 {
		return model.RoleRecorder
	}
	return p.Roles[0]
}

func (s *Stage) addPerson() {
	var shut func()
	name := widgets.NewField(s.Say("who.name"), "", nil)
	labels := []string{}
	for _, r := range roles {
		labels = append(labels, s.Say("role."+string(r)))
	}
	may := widgets.NewChoice(labels, 0, nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		_, err := s.Desk.AddPerson(model.Person{Name: name.Text(), Roles: []model.Role{roles[max(may.Selected, 0)]}, Language: s.Words.Language})
		if err != nil {
			name.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("who.add"), 22, widgets.Ink, true), name, widgets.NewPara(s.Say("who.role")), may, widgets.NewFlow(180, cancel, save)))
	name.Focus()
}
