// Package pot holds the screens of a cycle: what goes in, the pot on the fire, and the
// paper slip typed in afterwards. The steps lie on the pressure curve; the dial is
// the pot's own.
package pot

import (
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// form is what is asked before the fire, also on the paper slip's page.
type form struct {
	s                        *screens.Stage
	scope                    string
	packs, water, fuel, rest *widgets.Field
	item, mark, test         *widgets.Choice
}

var items = []model.Item{model.Wrapped, model.Unwrapped}

func newForm(s *screens.Stage, scope string) *form {
	kept := s.Draft(scope)
	field := func(name, label, hint string) *widgets.Field {
		f := widgets.NewField(s.Say(label), hint, nil)
		f.SetText(kept[name])
		f.WhenChanged(s.Keep(scope, name))
		return f
	}
	pick := func(name string, selected int, keys ...string) *widgets.Choice {
		var names []string
		for i, k := range keys {
			names = append(names, s.Say(k))
			if kept[name] == k {
				selected = i
			}
		}
		return widgets.NewChoice(names, selected, func(i int) { s.Keep(scope, name)(keys[i]) })
	}
	f := &form{s: s, scope: scope,
		packs: field("packs", "load.packs", s.Say("load.packs.hint")),
		water: field("water", "load.water", "2.6"),
		fuel:  field("fuel", "load.fuel", ""),
		rest:  field("rest", "load.rest", "0"),
		item:  pick("item", 0, "item.wrapped", "item.unwrapped"),
		mark:  pick("mark", -1, "load.tape", "load.tape.only", "load.strip.only", "load.none"),
		test:  pick("test", -1, "do.yes", "do.no"),
	}
	widgets.Chain(f.packs, f.water, f.fuel, f.rest)
	return f
}

func (f *form) objects() []fyne.CanvasObject {
	s := f.s
	objs := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("load.not"), s.Say("load.mixed")), f.packs}
	if labels := f.packed(); len(labels) > 0 { // they need not be written again
		objs = append(objs, widgets.NewButton(s.Words.Count("load.packed", len(labels)), widgets.Plain, func() { f.packs.SetText(strings.Join(labels, " ")) }))
	}
	return append(objs,
		widgets.NewFlow(200, f.water, f.rest, f.fuel),
		widgets.NewPara(s.Say("load.item")), f.item,
		widgets.NewPara(s.Say("load.indicator")), f.mark,
		widgets.NewPara(s.Say("load.test")), f.test)
}

// packed are the numbers of the packs that wait for a load, the newest that fit one.
func (f *form) packed() (labels []string) {
	ps, err := f.s.Desk.OnShelf(250)
	if err != nil {
		f.s.Note(err.Error())
	}
	for _, p := range ps {
		if p.State.Is(work.ShelfMade) && len(labels) < work.MostPacks {
			labels = append(labels, p.Label)
		}
	}
	return labels
}

// read takes the form; what is wrong is shown at its field.
func (f *form) read() (b work.BeginForm, ok bool) {
	var a, c bool
	b.WaterML, a = f.s.Number(f.water)
	b.Rest, c = f.s.Number(f.rest)
	if !a || !c {
		f.s.Message(f.s.Say("refuse.number")) // the field may be out of sight
		return b, false
	}
	if f.mark.Selected < 0 || f.test.Selected < 0 { // nothing is taken for granted
		f.s.Message(f.s.Say("refuse.choose", f.s.Say("load.indicator"), f.s.Say("load.test")))
		return b, false
	}
	b.Item = items[max(f.item.Selected, 0)]
	b.Fuel = strings.TrimSpace(f.fuel.Text())
	b.TestPack = f.test.Selected == 0
	tape, strip := f.mark.Selected <= 1, f.mark.Selected == 0 || f.mark.Selected == 2
	labels := strings.FieldsFunc(f.packs.Text(), func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' })
	packs, err := f.s.Desk.LoadOf(labels)
	if !f.s.Tell(err) {
		return b, false
	}
	for _, p := range packs {
		if p.ID.IsZero() { // not packed here: what is said of all of them
			p.Tape, p.Strip = tape, strip
		}
		b.Packs = append(b.Packs, p)
	}
	return b, true
}

// warned says which packs are too heavy, too long or too tightly filled before the fire is lit, and goes on when that is answered for.
func (f *form) warned(packs []model.LoadPack, then func()) {
	warn, err := f.s.Desk.LoadWarnings(packs)
	if !f.s.Tell(err) {
		return
	}
	if len(warn) == 0 {
		then()
		return
	}
	var lines []string
	for _, w := range warn {
		lines = append(lines, w[0]+": "+f.s.Say("warn."+w[1]))
	}
	widgets.AskHarm(f.s.Win, f.s.Say("load.warn"), strings.Join(lines, "\n"), f.s.Say("load.warn.go"), f.s.Say("load.warn.back"), func(yes bool) {
		if yes {
			then()
		}
	})
}

func (f *form) drop() {
	if err := f.s.Desk.Store.DropDraft(f.scope); err != nil {
		f.s.Note(err.Error())
	}
}

// Load asks what goes in, shows the mark, and begins the cycle.
func Load(s *screens.Stage) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return screens.Page(s.Say("load.title"), "", widgets.NewPara(s.Fault(err)))
	}
	pot := place.Pots[0]
	p, err := s.Desk.Plan(pot, place.Site, model.Wrapped, nil)
	if err != nil {
		return screens.Page(s.Say("load.title"), "", widgets.NewPara(s.Fault(err)))
	}
	if p.Plan.Refused != nil {
		return screens.Page(s.Say("load.title"), "", s.Refused(p))
	}
	if pot.Out {
		return screens.Page(s.Say("load.title"), s.Say("load.pot", pot.Looks.Name), widgets.NewNotice(widgets.Vermilion, s.Say("today.pot-out", pot.Looks.Name), s.Say("load.out")),
			widgets.NewButton(s.Say("go.tests"), widgets.Do, func() { s.Go(screens.ToTests, model.ID{}) }), s.Caution())
	}
	f := newForm(s, "load")
	begin := widgets.NewButton(s.Say("load.begin"), widgets.Do, func() {
		b, ok := f.read()
		if !ok {
			return
		}
		f.warned(b.Packs, func() {
			s.WithPerson(func() {
				id, _, err := s.Desk.Begin(pot, place.Site, b)
				if s.Tell(err) {
					f.drop()
					s.Go(screens.ToPot, id)
				}
			})
		})
	})
	right := s.MarkCard(p, begin)
	return screens.Page(s.Say("load.title"), s.Say("load.pot", pot.Looks.Name), widgets.NewSplit(widgets.NewColumn(f.objects()...), right, 0.58, 720))
}
