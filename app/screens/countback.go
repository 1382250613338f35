package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// countBackPage counts a set that came back against what was packed: a tap on a line says that one of it did not come. What is missing is asked for before
// anything else, with two large answers.
func (s *Stage) countBackPage(p work.PackView, list []model.Piece) fyne.CanvasObject {
	c := &counting{list: model.SetList{Name: p.Set, Pieces: list}, short: map[int]int64{}}
	total := c.list.Total()
	rows, question := widgets.NewColumn(), widgets.NewColumn()
	var save func(counted bool)
	all := widgets.NewButton("", widgets.Do, func() { save(false) })
	save = func(counted bool) {
		x := model.SetCounted{Present: total - c.missing(), Listed: total, Counted: counted}
		_, x.Short = c.left()
		s.WithPerson(func() {
			if !s.Tell(s.Desk.CountBack(p.ID, x)) {
				return
			}
			s.Go(ToPack, p.ID)
			if x.Present < x.Listed && !counted {
				s.Message(s.Say("count.clinician"))
			}
		})
	}
	var fill func()
	fill = func() {
		rows.Objects = nil
		for i := range c.list.Pieces {
			rows.Objects = append(rows.Objects, s.countRow(c, i, fill))
		}
		question.Objects = nil
		if c.missing() == 0 {
			all.SetText(s.Say("count.all"))
			all.Enable()
		} else {
			all.SetText(s.Say("count.some", count(total-c.missing()), count(total)))
			all.Disable()
			question.Objects = []fyne.CanvasObject{widgets.NewNotice(widgets.Vermilion, s.Say("count.end"), s.Say("count.first")), widgets.NewFlow(220,
				widgets.NewButton(s.Say("count.yes"), widgets.Plain, func() { save(true) }),
				widgets.NewButton(s.Say("count.no"), widgets.Harm, func() { save(false) }))}
		}
		rows.Refresh()
		question.Refresh()
	}
	fill()
	return Page(join(s.Say("pack.count"), p.Label), s.Words.Count("sets.pieces", int(total)), all, question, rows)
}

// countRow is one line of a list that is being counted.
func (s *Stage) countRow(c *counting, i int, fill func()) fyne.CanvasObject {
	p := c.list.Pieces[i]
	shape, colour, tag := widgets.Check, widgets.Green, s.Say("count.there")
	if c.short[i] > 0 {
		shape, colour, tag = widgets.Octagon, widgets.Vermilion, s.Say("count.short", count(p.Count-c.short[i]), count(p.Count))
	}
	return s.pictured(p.Name, widgets.NewRow(shape, colour, tag, count(p.Count)+" "+p.Name, s.Say("count.one-less"), func() {
		if c.short[i]++; c.short[i] > p.Count {
			delete(c.short, i)
		}
		fill()
	}))
}
