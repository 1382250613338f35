package screens

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/model"
)

// counting is a set list held against what lies on the table.
type counting struct {
	list  model.SetList
	id    model.ID
	short map[int]int64 // by line: how many are not there
}

// Count holds a set against its list. One tap says that all is there; a tap on a line says that one of it is not.
func Count(s *Stage, id model.ID) fyne.CanvasObject {
	x, err := s.Desk.Set(id)
	if err != nil {
		return Page(s.Say("sets.title"), "", widgets.NewPara(s.Fault(err)))
	}
	c := &counting{list: x.List, id: id, short: map[int]int64{}}
	rows := widgets.NewColumn()
	all := widgets.NewButton("", widgets.Do, func() { s.packForm(c) })
	var fill func()
	fill = func() {
		rows.Objects = nil
		for i := range c.list.Pieces {
			rows.Objects = append(rows.Objects, s.countRow(c, i, fill))
		}
		all.SetText(s.Say("count.all"))
		if n := c.missing(); n > 0 {
			all.SetText(s.Say("count.some", count(c.list.Total()-n), count(c.list.Total())))
		}
		rows.Refresh()
	}
	fill()
	return Page(join(s.Say("count.title"), x.List.Name), s.Words.Count("sets.pieces", int(x.List.Total())), all, rows)
}

// pictured puts the drawing of a piece beside its line.
func (s *Stage) pictured(piece string, o fyne.CanvasObject) fyne.CanvasObject {
	_, d := s.Words.Picture(piece)
	var lines [][]widgets.Point
	for _, l := range d {
		var line []widgets.Point
		for _, q := range l {
			line = append(line, widgets.Point{X: q[0], Y: q[1]})
		}
		lines = append(lines, line)
	}
	return widgets.NewPictured(lines, o)
}

func (c *counting) missing() (n int64) {
	for _, k := range c.short {
		n += k
	}
	return n
}

// left names what is not there, for the label.
func (c *counting) left() (names string, short []model.Short) {
	var out []string
	for i, p := range c.list.Pieces {
		if k := c.short[i]; k > 0 {
			short = append(short, model.Short{Piece: p.Name, Have: p.Count - k, Want: p.Count})
			out = append(out, strconv.FormatInt(k, 10)+" "+p.Name)
		}
	}
	return strings.Join(out, ", "), short
}
