package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// ShelfCount goes through a place of the shelf by scanning: a scan is a line. Then it says what lies there, what should not, and what is missing.
func ShelfCount(s *Stage) fyne.CanvasObject {
	const scope = "shelf-count"
	kept := s.Draft(scope)
	place := widgets.NewField(s.Say("shelf.place"), s.Say("shelf.place.hint"), s.Keep(scope, "place"))
	place.SetText(kept["place"])
	lines := kept["lines"]
	done := widgets.NewColumn()
	scan := widgets.NewField(s.Say("shelf.scan"), s.Say("packs.find.hint"), nil)
	var fill func()
	keep := func(text string) {
		lines = text
		s.Keep(scope, "lines")(text)
		fill()
	}
	fill = func() {
		n := fields(lines)
		done.Objects = []fyne.CanvasObject{widgets.NewStrong(s.Words.Count("shelf.scanned", len(n)))}
		for i := len(n) - 1; i >= max(0, len(n)-6); i-- {
			done.Objects = append(done.Objects, widgets.NewPara("– "+n[i]))
		}
		done.Refresh()
	}
	scan.Entry.OnSubmitted = func(text string) {
		if n := fields(text); len(n) > 0 {
			keep(lines + " " + n[0])
		}
		scan.SetText("")
		scan.Focus()
	}
	fill()
	compare := widgets.NewButton(s.Say("shelf.compare"), widgets.Do, func() {
		c, err := s.Desk.CheckShelf(place.Text(), fields(lines))
		if err != nil {
			place.SetError(s.Fault(err))
			return
		}
		s.Show(s.shelfCheck(c, scope))
	})
	again := widgets.NewButton(s.Say("shelf.again"), widgets.Quiet, func() { keep("") })
	return Page(s.Say("shelf.count"), "", widgets.NewPara(s.Say("shelf.how")), place, scan, widgets.NewFlow(220, compare, again), done)
}

// shelfCheck shows the differences, what may harm first, and saves.
func (s *Stage) shelfCheck(c work.ShelfCheck, scope string) fyne.CanvasObject {
	var body []fyne.CanvasObject
	part := func(key string, ps []work.PackView) {
		if len(ps) > 0 {
			body = append(body, widgets.NewStrong(s.Say(key, count(int64(len(ps))))))
			body = append(body, s.packRows(ps, nil)...)
		}
	}
	part("shelf.wrong", c.Wrong)
	for _, n := range c.Unknown {
		body = append(body, widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("shelf.unknown"), n, "", func() {}))
	}
	part("shelf.missing", c.Missing)
	part("shelf.here", c.Here)
	save := widgets.NewButton(s.Say("shelf.save"), widgets.Do, func() {
		s.WithPerson(func() {
			if s.Tell(s.Desk.SaveShelf(c)) {
				if err := s.Desk.Store.DropDraft(scope); err != nil {
					s.Note(err.Error())
				}
				s.Go(ToPacks, model.ID{})
			}
		})
	})
	back := widgets.NewButton(s.Say("do.back"), widgets.Plain, func() { s.Go(ToShelf, model.ID{}) })
	return Page(s.Say("shelf.count"), c.Place, append([]fyne.CanvasObject{widgets.NewPara(s.Say("shelf.then")), widgets.NewFlow(220, save, back)}, body...)...)
}
