package screens

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// starters is the number of set lists that a clinic can begin with; they are to be changed to what is really in its trays.
const starters = 10

// Sets lists the set lists: what belongs in each set, and packing one.
func Sets(s *Stage) fyne.CanvasObject {
	sets, err := s.Desk.Sets()
	if err != nil {
		return Page(s.Say("sets.title"), "", widgets.NewPara(s.Fault(err)))
	}
	buttons := []fyne.CanvasObject{widgets.NewButton(s.Say("sets.new"), widgets.Do, func() { s.WithPerson(func() { s.Go(ToSetEdit, model.ID{}) }) })}
	if len(sets) == 0 {
		buttons = append(buttons, widgets.NewButton(s.Say("sets.starter"), widgets.Plain, func() { s.WithPerson(s.StarterSets) }))
	}
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("load.not"), s.Say("sets.hint")), widgets.NewFlow(260, buttons...)}
	for _, x := range sets {
		tag := s.Words.Count("sets.pieces", int(x.List.Total()))
		if x.Two {
			tag = s.Say("sets.two")
		}
		body = append(body, widgets.NewRow(widgets.Square, widgets.Blue, tag, x.List.Name, s.Say("packs.open"), func() { s.Go(ToSetEdit, x.ID) }))
	}
	return Page(s.Say("sets.title"), "", body...)
}

// StarterSets puts the starter lists in, in the words of the language that is spoken.
func (s *Stage) StarterSets() {
	have, err := s.Desk.Sets()
	if !s.Tell(err) {
		return
	}
	for i := 1; i <= starters; i++ {
		n := strconv.Itoa(i)
		pieces, err := work.ParsePieces(s.Say("starter."+n+".pieces"), nil)
		if !s.Tell(err) {
			return
		}
		name := s.Say("starter." + n)
		if slices.ContainsFunc(have, func(x work.Set) bool { return strings.EqualFold(x.List.Name, name) }) {
			continue
		}
		if _, err := s.Desk.SaveSet(model.ID{}, model.SetList{Name: name, Pieces: pieces}); !s.Tell(err) {
			return
		}
	}
	s.Again()
}

// SetEdit shows one list, a piece a line, and keeps what is changed in it.
func SetEdit(s *Stage, id model.ID) fyne.CanvasObject {
	x := work.Set{}
	if !id.IsZero() {
		var err error
		if x, err = s.Desk.Set(id); err != nil {
			return Page(s.Say("sets.title"), "", widgets.NewPara(s.Fault(err)))
		}
	}
	name := widgets.NewField(s.Say("sets.name"), "", nil)
	name.SetText(x.List.Name)
	lines := widgets.NewLines(s.Say("sets.lines"), s.Say("sets.lines.hint"), work.WritePieces(x.List.Pieces), nil)
	never := strings.Split(s.Say("sets.never"), ",")
	for i := range never {
		never[i] = strings.TrimSpace(never[i])
	}
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		pieces, err := work.ParsePieces(lines.Text(), never)
		if !s.Tell(err) {
			return
		}
		s.WithPerson(func() {
			if _, err := s.Desk.SaveSet(id, model.SetList{Name: name.Text(), Pieces: pieces}); s.Tell(err) {
				s.Go(ToSets, model.ID{})
			}
		})
	})
	buttons := []fyne.CanvasObject{save}
	if !id.IsZero() {
		buttons = append(buttons, widgets.NewButton(s.Say("packs.make"), widgets.Plain, func() { s.WithPerson(func() { s.Go(ToCount, id) }) }),
			widgets.NewButton(s.Say("sets.print"), widgets.Plain, func() {
				s.Write("set-list.pdf", func(w io.Writer) error { return paper.SetList(w, s.Words, paper.A4, x.List, s.Desk.Clock.Now().Wall) })
			}),
			widgets.NewButton(s.Say("sets.retire"), widgets.Plain, func() {
				s.WithPerson(func() {
					l := x.List
					l.Gone = true
					if _, err := s.Desk.SaveSet(id, l); s.Tell(err) {
						s.Go(ToSets, model.ID{})
					}
				})
			}))
	}
	body := []fyne.CanvasObject{name, lines, widgets.NewFlow(200, buttons...)}
	if !id.IsZero() {
		body = append(body, s.setStory(x)...)
	}
	return Page(s.Say("sets.one"), "", body...)
}
