package screens

import (
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// PackNew packs a set: what is in it, the wrap, tape and strip; then its number, for the label. What was packed last of the
// same set is offered again: when all is there it is a matter of a few taps.
func PackNew(s *Stage) fyne.CanvasObject {
	sets, err := s.Desk.Sets()
	if err != nil {
		return Page(s.Say("pack.new"), "", widgets.NewPara(s.Fault(err)))
	}
	if len(sets) == 0 {
		return s.packPage(nil)
	}
	var rows []fyne.CanvasObject
	for _, x := range sets {
		rows = append(rows, widgets.NewButton(x.List.Name, widgets.Plain, func() { s.Go(ToCount, x.ID) }))
	}
	other := widgets.NewButton(s.Say("pack.other"), widgets.Quiet, func() { s.Show(s.packPage(nil)) })
	return Page(s.Say("pack.new"), "", widgets.NewStrong(s.Say("pack.set")), widgets.NewFlow(220, rows...), other)
}

// packForm goes on from a set that was counted against its list.
func (s *Stage) packForm(c *counting) { s.Show(s.packPage(c)) }

// packPage asks for the wrap, tape and strip; without a list also for the set and its pieces.
func (s *Stage) packPage(c *counting) fyne.CanvasObject {
	const scope = "pack-new"
	kept := s.Draft(scope)
	field := func(name, label, hint string) *widgets.Field {
		f := widgets.NewField(s.Say(label), hint, nil)
		f.SetText(kept[name])
		f.WhenChanged(s.Keep(scope, name))
		return f
	}
	set, present, listed := field("set", "pack.set", ""), field("present", "pack.present", "6"), field("listed", "pack.listed", "6")
	without, washes, lots := field("without", "pack.without", ""), field("washes", "pack.washes", "0"), field("lots", "pack.lots", "")
	mass, sides := field("mass", "pack.mass", "3,5"), field("sides", "pack.sides", "30 x 20 x 15")
	widgets.Chain(set, present, listed, washes, lots, mass, sides, without)
	var wraps []string
	for _, w := range model.Wraps {
		wraps = append(wraps, s.Say("wrap."+string(w)))
	}
	wrap := widgets.NewChoice(wraps, -1, nil)
	mark := widgets.NewChoice([]string{s.Say("load.tape"), s.Say("load.tape.only"), s.Say("load.strip.only"), s.Say("load.none")}, -1, nil)
	counted := widgets.NewChoice([]string{s.Say("do.yes"), s.Say("do.no")}, -1, nil)
	again := widgets.NewChoice([]string{s.Say("pack.wrap.new"), s.Say("pack.wrap.again")}, -1, nil)
	var list model.ID
	var short []model.Short
	if c != nil {
		var names string
		names, short = c.left()
		list = c.id
		set.SetText(c.list.Name)
		present.SetText(count(c.list.Total() - c.missing()))
		listed.SetText(count(c.list.Total()))
		without.SetText(names)
	}
	number := func(f *widgets.Field) int64 {
		if strings.TrimSpace(f.Text()) == "" {
			return 0
		}
		v, _ := s.Number(f)
		return v / 1000
	}
	save := widgets.NewButton(s.Say("pack.save"), widgets.Do, func() {
		if wrap.Selected < 0 || mark.Selected < 0 {
			s.Message(s.Say("refuse.choose", s.Say("pack.wrap"), s.Say("load.indicator")))
			return
		}
		f := work.PackForm{Set: set.Text(), Present: number(present), Listed: number(listed), Counted: counted.Selected == 0, Without: without.Text(),
			Wrap: model.Wraps[wrap.Selected], Washes: number(washes), Again: again.Selected == 1, Tape: mark.Selected <= 1,
			Strip: mark.Selected == 0 || mark.Selected == 2, Lots: lots.Text(), List: list, Short: short}
		var ok bool
		if strings.TrimSpace(mass.Text()) != "" {
			if f.MassG, ok = s.Number(mass); !ok { // kilograms, in thousandths: grams
				return
			}
		}
		if f.SidesMM, ok = threeSides(sides.Text()); !ok {
			sides.SetError(s.Say("refuse.pack-sides"))
			return
		}
		warn, err := s.Desk.Warnings(f)
		if !s.Tell(err) {
			return
		}
		then := func() {
			s.WithPerson(func() {
				id, n, err := s.Desk.MakePack(f)
				if !s.Tell(err) {
					return
				}
				if err := s.Desk.Store.DropDraft(scope); err != nil {
					s.Note(err.Error())
				}
				s.packed(id, n.Text)
			})
		}
		if len(warn) == 0 {
			then()
			return
		}
		var said []string
		for _, w := range warn {
			said = append(said, s.Say("warn."+w))
		}
		widgets.Ask(s.Win, said[0], join(append(said[1:], s.Say("warn.record"))...), s.Say("do.yes"), s.Say("do.no"), func(yes bool) {
			if yes {
				then()
			}
		})
	})
	body := []fyne.CanvasObject{}
	if c == nil {
		body = append(body, widgets.NewNotice(widgets.Amber, s.Say("load.not"), s.Say("pack.count.first")), set, widgets.NewFlow(160, present, listed))
	} else {
		body = append(body, widgets.NewStrong(join(c.list.Name, s.Say("knot.pieces", present.Text(), listed.Text()), without.Text())))
	}
	body = append(body, widgets.NewPara(s.Say("pack.wrap")), wrap, again, widgets.NewPara(s.Say("load.indicator")), mark)
	if c == nil || c.missing() > 0 {
		body = append(body, widgets.NewPara(s.Say("pack.missing.counted")), counted, without)
	}
	return Page(s.Say("pack.new"), "", append(body, save, widgets.NewFlow(220, washes, lots, mass, sides))...)
}

// threeSides reads "30 x 20 x 15" in centimetres as millimetres; nothing typed is nothing measured.
func threeSides(text string) (mm []int64, ok bool) {
	parts := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == 'x' || r == '×' || r == '*' || r == ' ' })
	if len(parts) == 0 {
		return nil, true
	}
	for _, p := range parts {
		milli, err := parseMilli(p)
		if err != nil {
			return nil, false
		}
		mm = append(mm, milli/100)
	}
	return mm, len(mm) == 3
}

// packed shows the number, large, for the pen or the printer.
func (s *Stage) packed(id model.ID, number string) {
	var shut func()
	shut = s.Modal(widgets.NewColumn(widgets.NewPara(s.Say("pack.write")), widgets.NewBig(number, 44, widgets.Ink, true).SetAlign(fyne.TextAlignCenter),
		widgets.NewSoft(s.Say("pack.write.only")),
		widgets.NewFlow(170,
			widgets.NewButton(s.Say("pack.label"), widgets.Plain, func() {
				if p, err := s.Desk.Pack(id); s.Tell(err) {
					s.printLabel(p)
				}
			}),
			widgets.NewButton(s.Say("pack.next"), widgets.Do, func() { shut(); s.Go(ToPackNew, model.ID{}) }),
			widgets.NewButton(s.Say("packs.title"), widgets.Plain, func() { shut(); s.Go(ToPacks, model.ID{}) }))))
}
