package screens

import (
	"path/filepath"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Joining a district: the clinic asks on a stick, the office takes it in, and both compare six words.

// joinState says on the stick screen how our clinic stands to a district, and what is to be done about it.
func (s *Stage) joinState() []fyne.CanvasObject {
	j, err := s.Desk.Joined()
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	if office, err := s.Desk.Office(); err != nil || office {
		return nil
	}
	switch {
	case j.Unproven:
		return []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("join.unproven", j.District), s.Say("join.unproven.how")), s.sixWords(j.Words),
			widgets.NewButton(s.Say("join.alike"), widgets.Do, func() { s.WithPerson(func() { s.done(s.Desk.ProveHere()) }) })}
	case j.Head:
		return []fyne.CanvasObject{widgets.NewSoft(s.Say("join.alone"))}
	}
	return []fyne.CanvasObject{widgets.NewSoft(s.Say("join.in", j.District))}
}

// sixWords shows the words large, to be read aloud.
func (s *Stage) sixWords(words string) fyne.CanvasObject {
	return widgets.NewCard(widgets.NewBig(words, 24, widgets.Ink, true))
}

// mayAsk offers to ask, where our clinic belongs to no district.
func (s *Stage) mayAsk(path string) []fyne.CanvasObject {
	j, err := s.Desk.Joined()
	office, err2 := s.Desk.Office()
	if err != nil || err2 != nil || office || !j.Head {
		return nil
	}
	return []fyne.CanvasObject{widgets.NewStrong(s.Say("join.title")), widgets.NewPara(s.Say("join.how")),
		widgets.NewButton(s.Say("join.ask"), widgets.Plain, func() {
			s.WithPerson(func() {
				if _, err := s.Desk.Ask(path); s.Tell(err) {
					s.Message(s.Say("join.asked"))
				}
			})
		})}
}

// asking are rows of the clinics that ask to join, on the office's screen.
func (s *Stage) asking(path string, in work.BroughtIn) (out []fyne.CanvasObject) {
	for _, a := range in.Asks {
		shape, tag := widgets.Triangle, s.Say("join.asks")
		if a.In {
			shape, tag = widgets.Check, s.Say("join.taken")
		}
		out = append(out, widgets.NewRow(shape, widgets.Blue, tag, a.Name, s.Say("join.take"), func() { s.WithPerson(func() { s.takeIn(path, a) }) }))
	}
	return out
}

// takeIn asks for the letters of the clinic's pack numbers, writes the answer and shows the words.
func (s *Stage) takeIn(path string, a work.Applicant) {
	var shut func()
	code := widgets.NewField(s.Say("join.code"), "", nil)
	code.SetText(a.Code)
	save := widgets.NewButton(s.Say("join.take"), widgets.Do, func() {
		words, err := s.Desk.TakeIn(a, code.Text(), path)
		if err != nil {
			code.SetError(s.Fault(err))
			return
		}
		shut()
		s.Show(s.compareWords(a.Name, words, widgets.NewPara(s.Say("join.answer-written")), func() error { return s.Desk.Prove(a.Site) }, nil))
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(a.Name, 22, widgets.Ink, true), widgets.NewPara(s.Say("join.code.how")), code, widgets.NewFlow(160, cancel, save)))
	code.Focus()
}

// compareWords shows six words and asks whether the other screen shows the same. later, where there is one, goes on without.
func (s *Stage) compareWords(name, words string, first fyne.CanvasObject, alike func() error, later func()) fyne.CanvasObject {
	back := func() { s.Go(ToStick, model.ID{}) }
	yes := widgets.NewButton(s.Say("join.alike"), widgets.Do, func() {
		s.WithPerson(func() {
			if s.Tell(alike()) {
				back()
				if office, err := s.Desk.Office(); err == nil && office {
					s.Message(s.Say("join.noted", name))
					return
				}
				s.Message(s.Say("join.done", name))
			}
		})
	})
	no := widgets.NewButton(s.Say("join.differ"), widgets.Harm, func() { back(); s.Message(s.Say("join.differ.how")) })
	body := []fyne.CanvasObject{first, widgets.NewStrong(s.Say("join.words")), s.sixWords(words), yes, no}
	if later != nil {
		body = append(body, widgets.NewButton(s.Say("join.later"), widgets.Quiet, later))
	} else {
		body = append(body, widgets.NewButton(s.Say("do.back"), widgets.Quiet, back))
	}
	return Page(s.Say("join.title"), name, body...)
}

// invited shows the answer of an office: who takes us in, and the words.
func (s *Stage) invited(path string, inv *work.Invitation) fyne.CanvasObject {
	accept := func(compared bool) error {
		if err := s.Desk.Accept(inv, compared); err != nil {
			return err
		}
		_, err := s.Desk.BringIn(path)
		return err
	}
	first := widgets.NewNotice(widgets.Blue, s.Say("join.invited", inv.Name), filepath.Base(path))
	return s.compareWords(inv.Name, inv.Words, first, func() error { return accept(true) }, func() {
		s.WithPerson(func() {
			if s.Tell(accept(false)) {
				s.Go(ToStick, model.ID{})
			}
		})
	})
}
