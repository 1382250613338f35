package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// setStory shows the pieces of a set with their drawings, what of it is away, and what happened to it.
func (s *Stage) setStory(x work.Set) (out []fyne.CanvasObject) {
	story, err := s.Desk.SetStory(x.ID)
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	if hand, err := s.Desk.InHand(x.ID); err == nil {
		var parts []string
		for _, st := range work.ShelfOrder() {
			if hand[st] > 0 {
				parts = append(parts, count(int64(hand[st]))+" "+s.Say("shelf."+string(st)))
			}
		}
		if len(parts) > 0 {
			out = append(out, widgets.NewPara(s.Say("setcare.hand", join(parts...))))
		}
	}
	out = append(out, widgets.NewStrong(s.Say("setcare.pieces")))
	for _, p := range x.List.Pieces {
		shape, colour, tag := widgets.Square, widgets.Blue, s.Say("setcare.needed")
		if !p.Essential {
			tag = s.Say("setcare.not-needed")
		}
		if n := story.Away[p.Name]; n > 0 {
			shape, colour, tag = widgets.Triangle, widgets.Vermilion, s.Say("setcare.away", count(n))
		}
		out = append(out, s.pictured(p.Name, widgets.NewRow(shape, colour, tag, join(count(p.Count)+" "+p.Name), s.Say("setcare.do"), func() {
			s.WithPerson(func() { s.tellSetCare(x, p) })
		})))
	}
	if len(story.Events) > 0 {
		out = append(out, widgets.NewStrong(s.Say("setcare.story")))
	}
	for _, e := range story.Events {
		when := s.Say("knot.doubt")
		if at, known, err := s.Desk.Corrected(e.By); err == nil && known {
			when = s.Words.Day(at)
		}
		out = append(out, widgets.NewPara("– "+join(when, count(e.Count)+" "+e.Piece, s.Say("setcare."+string(e.What)), e.Note, s.Desk.Person(e.By.Body().Person).Name)))
	}
	return out
}

// tellSetCare asks what happened to a piece.
func (s *Stage) tellSetCare(x work.Set, p model.Piece) {
	var shut func()
	var names []string
	for _, c := range model.SetChanges {
		names = append(names, s.Say("setcare."+string(c)))
	}
	what := widgets.NewChoice(names, -1, nil)
	n, note := widgets.NewField(s.Say("setcare.count"), "1", nil), widgets.NewField(s.Say("setcare.note"), "", nil)
	n.SetText("1")
	widgets.Chain(n, note)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		milli, ok := s.Number(n)
		if !ok {
			return
		}
		if what.Selected < 0 {
			s.Message(s.Say("refuse.one", s.Say("setcare.what")))
			return
		}
		err := s.Desk.TellSetCare(x.ID, model.SetCare{What: model.SetChanges[what.Selected], Piece: p.Name, Count: milli / 1000, Note: note.Text()})
		if err != nil {
			n.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(p.Name, 20, widgets.Ink, true), what, widgets.NewFlow(180, n, note), widgets.NewFlow(180, cancel, save)))
}
