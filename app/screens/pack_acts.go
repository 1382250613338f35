package screens

import (
	"image/color"
	"io"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

type colourOf = color.NRGBA

// move asks to whom, or where to, and records it.
func (s *Stage) move(p work.PackView, what model.Move) {
	var shut func()
	to := widgets.NewField(s.Say("move.to."+string(what)), "", nil)
	clinics := s.otherClinics(what)
	send := func(name string) {
		if err := s.Desk.MovePack(p.ID, model.PackMoved{What: what, To: name}); err != nil {
			to.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
	}
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		name := strings.TrimSpace(to.Text())
		if len(clinics) == 0 || name == "" || slices.ContainsFunc(clinics, func(c string) bool { return strings.EqualFold(c, name) }) {
			send(name)
			return
		}
		widgets.Ask(s.Win, s.Say("move.unknown", name), s.Say("move.unknown.how"), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if sure {
				send(name)
			}
		})
	})
	var tiles []fyne.CanvasObject
	for _, c := range clinics {
		tiles = append(tiles, widgets.NewButton(c, widgets.Do, func() { send(c) }))
	}
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	to.Entry.OnSubmitted = func(string) { save.Tapped(nil) }
	body := []fyne.CanvasObject{widgets.NewBig(join(s.Say("knot."+string(what)), p.Label), 22, widgets.Ink, true)}
	if len(tiles) > 0 {
		body = append(body, widgets.NewFlow(180, tiles...))
	}
	shut = s.Modal(widgets.NewColumn(append(body, to, widgets.NewFlow(180, cancel, save))...))
	to.Focus()
}

// otherClinics are the clinics of the district that a pack can be sent or lent to.
func (s *Stage) otherClinics(what model.Move) (out []string) {
	if what != model.MoveSent && what != model.MoveLent {
		return nil
	}
	sites, err := s.Desk.Sites()
	if err != nil {
		return nil
	}
	named := map[string]int{}
	for _, x := range sites {
		named[strings.ToLower(x.Name)]++
	}
	for _, x := range sites {
		switch {
		case x.Own, x.Office, x.Name == "":
		case named[strings.ToLower(x.Name)] > 1: // its letters tell it from the other
			out = append(out, x.Code)
		default:
			out = append(out, x.Name)
		}
	}
	return out
}

// spoil asks why; the pack ends at once.
func (s *Stage) spoil(p work.PackView) {
	var shut func()
	objs := []fyne.CanvasObject{widgets.NewBig(s.Say("pack.spoil.ask", p.Label), 22, widgets.Ink, true)}
	for _, why := range model.Spoils {
		objs = append(objs, widgets.NewButton(s.Say("spoilt."+string(why)), widgets.Plain, func() {
			shut()
			widgets.AskHarm(s.Win, s.Say("spoilt."+string(why)), s.Say("pack.spoil.then", p.Label), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
				if sure {
					s.done(s.Desk.SpoilPack(p.ID, why))
				}
			})
		}))
	}
	objs = append(objs, widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() }))
	shut = s.Modal(widgets.NewColumn(objs...))
}

// use records a pack opened: outside, the strip inside, and the register number; never a name. anyway: it may not be used
// and was.
func (s *Stage) use(p work.PackView, anyway bool) {
	var shut func()
	outside := widgets.NewChoice([]string{s.Say("do.yes"), s.Say("do.no")}, -1, nil)
	strips := []model.StripSaid{model.StripReached, model.StripNot, model.StripNone}
	strip := widgets.NewChoice([]string{s.Say("strip.reached"), s.Say("strip.not-reached"), s.Say("strip.none")}, -1, nil)
	number := widgets.NewField(s.Say("use.number"), s.Say("use.number.hint"), nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if outside.Selected < 0 || strip.Selected < 0 {
			s.Message(s.Say("refuse.choose", s.Say("use.outside"), s.Say("use.strip")))
			return
		}
		f := work.UseForm{Outside: outside.Selected == 0, Strip: strips[strip.Selected], Number: number.Text(), Anyway: anyway}
		if err := s.Desk.OpenPack(p.ID, f); err != nil {
			number.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
		switch {
		case f.Strip == model.StripNot:
			s.Message(s.Say("use.stop"))
		case !f.Outside:
			s.Message(s.Say("use.not-whole"))
		}
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	title := s.Say("pack.use.do")
	if anyway {
		title = s.Say("pack.used-anyway")
	}
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(join(title, p.Label), 20, widgets.Ink, true), widgets.NewPara(s.Say("use.outside")), outside,
		widgets.NewPara(s.Say("use.strip")), strip, number, widgets.NewFlow(180, cancel, save)))
}

// countBack counts a set that came back; a piece that is missing is asked for before anything else.
func (s *Stage) countBack(p work.PackView) {
	if list := s.Desk.Packed(p); len(list) > 0 {
		s.Show(s.countBackPage(p, list))
		return
	}
	var shut func()
	listed := int64(1)
	if p.Made != nil {
		listed = p.Made.Present
	}
	have, of := widgets.NewField(s.Say("count.have"), count(listed), nil), widgets.NewField(s.Say("count.of"), count(listed), nil)
	of.SetText(count(listed))
	widgets.Chain(have, of)
	counted := widgets.NewChoice([]string{s.Say("do.yes"), s.Say("do.no")}, -1, nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		h, ok1 := s.Number(have)
		o, ok2 := s.Number(of)
		if !ok1 || !ok2 {
			return
		}
		c := model.SetCounted{Present: h / 1000, Listed: o / 1000, Counted: counted.Selected == 0}
		if c.Present < c.Listed && counted.Selected < 0 {
			s.Message(s.Say("count.end"))
			return
		}
		if err := s.Desk.CountBack(p.ID, c); err != nil {
			have.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
		if c.Present < c.Listed && !c.Counted {
			s.Message(s.Say("count.clinician"))
		}
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(join(s.Say("pack.count"), p.Label), 20, widgets.Ink, true), widgets.NewFlow(160, have, of),
		widgets.NewPara(s.Say("count.end")), counted, widgets.NewFlow(180, cancel, save)))
	have.Focus()
}

// printLabel writes the label of identity; a reprint says which copy it is.
func (s *Stage) printLabel(p work.PackView) {
	copies, err := s.Desk.Printed(p.ID)
	if !s.Tell(err) {
		return
	}
	l := LabelOf(s, p)
	if copies > 1 {
		l.Copy = int(copies)
	}
	s.chooseGrid(1, func(g paper.Grid, from int) {
		s.Write("label-"+p.Label+".pdf", func(w io.Writer) error { return paper.Labels(w, s.Words, g, from, []paper.Label{l}) })
	})
}

// chooseGrid asks on which sheet or roll the labels are printed, and at which place of a begun sheet; what was chosen last is offered again.
func (s *Stage) chooseGrid(labels int, then func(g paper.Grid, from int)) {
	const scope = "label-grid"
	kept := s.Draft(scope)
	at, names := 0, []string{}
	for i, g := range paper.Grids {
		names = append(names, g.Title(s.Words))
		if g.Name == kept["grid"] {
			at = i
		}
	}
	var shut func()
	grid := widgets.NewChoice(names, at, func(i int) { s.Keep(scope, "grid")(paper.Grids[i].Name) })
	place := widgets.NewField(s.Say("label.place"), "1", nil)
	place.SetText("1")
	if kept["place"] != "" { // a begun sheet goes on where it was left
		place.SetText(kept["place"])
	}
	do := widgets.NewButton(s.Say("label.do"), widgets.Do, func() {
		milli, ok := s.Number(place)
		g := paper.Grids[max(grid.Selected, 0)]
		if n := int(milli / 1000); !ok || n < 1 || n > g.Places() {
			place.SetError(s.Say("label.refuse.from", count(int64(g.Places()))))
			return
		}
		shut()
		s.Keep(scope, "place")(count((milli/1000-1+int64(labels))%int64(g.Places()) + 1))
		then(g, int(milli/1000)-1)
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("label.sheet"), 20, widgets.Ink, true), grid, place, widgets.NewFlow(180, cancel, do)))
}

// LabelOf is what stands on a pack's label: only what was true when it was packed. The code carries a part of the entry's id, so
// that a scan means one pack even where two have one number.
func LabelOf(s *Stage, p work.PackView) paper.Label {
	l := paper.Label{Number: p.Label, Set: p.Set, Packer: s.Desk.Person(p.MadeBy.Body().Person).Name, Scan: work.ScanCode(p)}
	if at, known, err := s.Desk.Corrected(p.MadeBy); err == nil && known {
		l.Wrapped = s.Words.Day(at)
	}
	if m := p.Made; m.Present < m.Listed {
		l.Note = strings.TrimSpace(s.Say("knot.pieces", count(m.Present), count(m.Listed)) + " " + s.without(m.Without))
	}
	return l
}

// without marks what was left out, so that nobody takes it for what is inside.
func (s *Stage) without(pieces string) string {
	if pieces == "" {
		return ""
	}
	return s.Say("label.without", pieces)
}
