package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// mostRows is how many packs a list shows; more are found by a part of their number.
const mostRows = 30

// Packs is the shelf: what may be used, in the order of use, and what may not. One field finds a pack, typed or scanned.
func Packs(s *Stage) fyne.CanvasObject {
	office, err := s.Desk.Office()
	if err != nil {
		return Page(s.Say("packs.title"), "", widgets.NewPara(s.Fault(err)))
	}
	list := widgets.NewColumn()
	fill := func(ps []work.PackView, err error) {
		list.Objects = s.packRows(ps, err)
		list.Refresh()
	}
	shelf := func() {
		ps, err := s.Desk.OnShelf(mostRows)
		fill(ps, err)
		if err == nil && office && len(ps) == 0 {
			list.Objects = []fyne.CanvasObject{widgets.NewCard(widgets.NewPara(s.Say("packs.office")))}
			list.Refresh()
		}
	}
	find := widgets.NewField(s.Say("packs.find"), s.Say("packs.find.hint"), func(text string) {
		if text == "" {
			shelf()
			return
		}
		found, err := s.Desk.Find(text, mostRows)
		fill(found.Packs, err)
		if office && err == nil && len(found.Packs)+len(found.Uses) == 0 { // nobody takes it for an answer that no pack was used for a number
			list.Objects = []fyne.CanvasObject{widgets.NewCard(widgets.NewPara(s.Say("find.office")))}
		}
		list.Objects = append(s.alsoFound(found), list.Objects...)
		list.Refresh()
	})
	find.Entry.OnSubmitted = func(text string) { s.openNumber(text, find) }
	shelf()
	buttons := []fyne.CanvasObject{widgets.NewButton(s.Say("stock.title"), widgets.Plain, func() { s.Go(ToStock, model.ID{}) }),
		widgets.NewButton(s.Say("sets.title"), widgets.Plain, func() { s.Go(ToSets, model.ID{}) })}
	if !office { // it packs nothing, and has no shelf
		buttons = append(append([]fyne.CanvasObject{widgets.NewButton(s.Say("packs.make"), widgets.Do, func() { s.WithPerson(func() { s.Go(ToPackNew, model.ID{}) }) })}, buttons...),
			widgets.NewButton(s.Say("shelf.count"), widgets.Plain, func() { s.Go(ToShelf, model.ID{}) }))
	}
	return Page(s.Say("packs.title"), "", widgets.NewFlow(260, buttons...), find, list)
}

// openNumber opens the pack whose number was typed or scanned: one is opened at once, of several one is chosen.
func (s *Stage) openNumber(text string, f *widgets.Field) {
	ids, err := s.Desk.ByNumber(text)
	switch good, ours := work.GoodNumber(text); {
	case err != nil:
		f.SetError(s.Fault(err))
	case len(ids) == 1:
		s.Go(ToPack, ids[0])
	case len(ids) > 1:
		f.SetError(s.Say("packs.double", text))
	case ours && !good:
		f.SetError(s.Say("refuse.number-check", text))
	default:
		if found, err := s.Desk.FindPacks(text, 1); err == nil && len(found) > 0 {
			f.SetError(s.Say("packs.choose"))
			return
		}
		f.SetError(s.Say("packs.none"))
	}
}

func (s *Stage) packRows(ps []work.PackView, err error) (out []fyne.CanvasObject) {
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	office, err := s.Desk.Office()
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	for _, p := range ps {
		shape, colour := shelfLook(p.State)
		tag := s.Say("shelf." + string(p.State))
		away := p.Out()
		if office { // seen from there every pack is elsewhere
			away = p.Pack.Out()
		}
		if away && p.State.Good() {
			shape, colour, tag = widgets.Square, widgets.InkSoft, s.Say("shelf.out")
		}
		lost := ""
		if p.NotFound && !p.Ended() {
			lost = s.Say("pack.not-found")
		}
		out = append(out, widgets.NewRow(shape, colour, tag, join(p.Label, p.Set, s.siteIfOther(p.House), s.lastDay(p), s.wherePack(p), lost, s.overridden(p)), s.Say("packs.open"),
			func() { s.Go(ToPack, p.ID) }))
	}
	if len(out) == mostRows {
		out = append(out, widgets.NewSoft(s.Say("packs.more", count(mostRows))))
	}
	if len(out) == 0 {
		out = append(out, widgets.NewCard(widgets.NewPara(s.Say("packs.empty"))))
	}
	return out
}

// shelfLook is the shape and colour of a state; the word always stands beside it.
func shelfLook(st work.Shelf) (widgets.Shape, colourOf) {
	switch st {
	case work.ShelfReady:
		return widgets.Check, widgets.Green
	case work.ShelfFirst, work.ShelfNow:
		return widgets.Disc, widgets.Blue
	case work.ShelfHeld, work.ShelfExpired, work.ShelfRejected, work.ShelfSpoilt:
		return widgets.Octagon, widgets.Vermilion
	case work.ShelfMade, work.ShelfLoaded, work.ShelfUsed:
		return widgets.Square, widgets.InkSoft
	}
	return widgets.Triangle, widgets.InkSoft
}

func (s *Stage) lastDay(p work.PackView) string {
	switch p.State {
	case work.ShelfReady, work.ShelfFirst, work.ShelfExpired:
		return s.Say("packs.until", s.Words.Day(p.LastDay))
	}
	return ""
}

// overridden marks a pack that was released although the readings could not show it: for life, wherever it is shown.
func (s *Stage) overridden(p work.PackView) string {
	if p.Answer.Override {
		return s.Say("state.not-known-released")
	}
	return ""
}

func (s *Stage) wherePack(p work.PackView) string {
	if len(p.Moves) == 0 {
		return ""
	}
	m := p.Moves[len(p.Moves)-1]
	return s.Say("move."+string(m.What), m.To)
}

// alsoFound are the things beside packs by any part that a search finds.
func (s *Stage) alsoFound(f work.Found) (out []fyne.CanvasObject) {
	for _, p := range f.Uses {
		out = append(out, widgets.NewRow(widgets.Disc, widgets.Blue, s.Say("find.use"), join(p.Label, p.Set), s.Say("packs.open"), func() { s.Go(ToPack, p.ID) }))
	}
	for _, id := range f.Cycles {
		c, err := s.Desk.Cycle(id)
		if err != nil {
			continue
		}
		state, shape, colour := s.state(c)
		out = append(out, widgets.NewRow(shape, colour, s.Say("state."+state), s.Say("knot.cycle", count(c.Begun.Number)), s.Say("go.cycle"), func() { s.Go(ToCycle, id) }))
	}
	for _, x := range f.Sets {
		out = append(out, widgets.NewRow(widgets.Square, widgets.Blue, s.Say("sets.one"), x.List.Name, s.Say("packs.open"), func() { s.Go(ToSetEdit, x.ID) }))
	}
	for _, p := range f.People {
		out = append(out, widgets.NewRow(widgets.Disc, widgets.Blue, s.Say("nav.people"), p.Person.Name, s.Say("people.open"), func() { s.Go(ToPeople, model.ID{}) }))
	}
	return out
}
