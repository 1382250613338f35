package screens

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Compare puts the gauge beside a reference, cold, at two points, and says what follows before it is saved.
func Compare(s *Stage, id model.ID) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return Page(s.Say("compare.new"), "", widgets.NewPara(s.Fault(err)))
	}
	pot, ok := place.Pot(id)
	if !ok {
		pot = place.Pots[0]
	}
	if len(pot.Also) > 0 {
		return s.whichGauge(pot)
	}
	return s.compare(place, pot, false)
}

// compare is that page for the gauge on a pot, or for an earlier one.
func (s *Stage) compare(place work.Place, pot work.Pot, earlier bool) fyne.CanvasObject {
	plan, err := s.Desk.Plan(pot, place.Site, model.Wrapped, nil)
	if err != nil {
		return Page(s.Say("compare.new"), "", widgets.NewPara(s.Fault(err)))
	}
	unit := pot.Gauge.Unit
	mark := s.Words.Number(plan.Plan.NeedShown, 1)
	field := func(key, hint string) *widgets.Field { return widgets.NewField(s.Say(key, unit), hint, nil) }
	lowShown, lowTrue := field("compare.shown", ""), field("compare.true", "")
	highShown, highTrue := field("compare.shown", ""), field("compare.true", "")
	widgets.Chain(lowShown, lowTrue, highShown, highTrue)
	all, err := s.Desk.References()
	if err != nil {
		return Page(s.Say("compare.new"), "", widgets.NewPara(s.Fault(err)))
	}
	var names []string
	slices.SortStableFunc(all, func(a, b work.Reference) int { // what is in date first
		switch {
		case a.Overdue == b.Overdue:
			return 0
		case b.Overdue:
			return -1
		}
		return 1
	})
	for _, r := range all {
		name := join(r.Name, s.referenceLine(r))
		if r.Overdue {
			name = join(strings.ToUpper(s.Say("reference.due")), name)
		}
		names = append(names, name)
	}
	with := widgets.NewChoice(names, -1, nil)
	instruments := []fyne.CanvasObject{widgets.NewButton(s.Say("reference.title"), widgets.Quiet, func() { s.Go(ToReferences, model.ID{}) })}
	title, then, list := s.Say("compare.new"), "compare.then", s.comparisons(pot, func() { s.Show(s.compare(place, pot, earlier)) })
	if earlier {
		title, then = s.Say("compare.earlier"), "compare.earlier.then"
	} else {
		instruments = append(instruments, widgets.NewButton(s.Say("gauge.new"), widgets.Quiet, func() { s.WithPerson(func() { s.newGauge(pot) }) }))
		list = widgets.NewColumn(list, s.earlierGauges(place, pot))
	}
	cold := widgets.NewChoice([]string{s.Say("do.yes"), s.Say("do.no")}, -1, nil)
	save := widgets.NewButton(s.Say("compare.save"), widgets.Do, func() {
		if with.Selected < 0 || cold.Selected < 0 {
			s.Message(s.Say("refuse.choose", s.Say("compare.with"), s.Say("compare.cold")))
			return
		}
		var v [4]float64
		for i, f := range []*widgets.Field{lowShown, lowTrue, highShown, highTrue} {
			milli, ok := s.Number(f)
			if !ok {
				s.Message(s.Say("refuse.number"))
				return
			}
			v[i] = float64(milli) / 1000
		}
		f := work.CompareForm{Points: []work.ComparePoint{{Shown: v[0], True: v[1]}, {Shown: v[2], True: v[3]}}, With: all[with.Selected].ID, Cold: cold.Selected == 0}
		doubt, err := s.Desk.CheckCompare(pot, place.Site, f)
		if !s.Tell(err) { // figures that cannot be are not put into a question
			return
		}
		text := s.Say(then, s.Words.Number(v[2]-v[3], 2), unit)
		if v[2] > v[3] {
			text += "\n" + s.Say("compare.high")
		}
		if doubt > 0 {
			text += "\n" + s.Words.Count("compare.doubt", doubt)
		}
		text += "\n" + s.Say("compare.sure")
		widgets.Ask(s.Win, title, text, s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if sure && s.Tell(s.Desk.Compare(pot, place.Site, f)) {
				s.Go(ToTests, pot.ID)
			}
		})
	})
	return Page(title, join(s.Say("load.pot", pot.Looks.Name), s.DialOf(pot)),
		widgets.NewNotice(widgets.Amber, s.Say("compare.how"), s.Say("compare.where", mark, unit)),
		widgets.NewStrong(s.Say("compare.low")), widgets.NewFlow(200, lowShown, lowTrue),
		widgets.NewStrong(s.Say("compare.mark", mark, unit)), widgets.NewFlow(200, highShown, highTrue),
		widgets.NewStrong(s.Say("compare.with")), with, widgets.NewFlow(260, instruments...), widgets.NewPara(s.Say("compare.cold")), cold, save, list, s.Caution())
}

// liftValve asks whether the safety valve lifted, and where.
func (s *Stage) liftValve(pot work.Pot) {
	var shut func()
	at := widgets.NewField(s.Say("valve.at", pot.Gauge.Unit), "", nil)
	lifted := widgets.NewButton(s.Say("valve.lifted"), widgets.Do, func() {
		milli, ok := s.Number(at)
		if !ok {
			return
		}
		lift := func() {
			if err := s.Desk.LiftValve(pot, true, milli); err != nil {
				at.SetError(s.Fault(err))
				return
			}
			shut()
			s.Again()
		}
		if !work.ValveTooHigh(pot, milli) {
			lift()
			return
		}
		widgets.Ask(s.Win, s.Say("valve.high", at.Text()+" "+pot.Gauge.Unit), s.Say("valve.stuck.then"), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if sure {
				lift()
			}
		})
	})
	stuck := widgets.NewButton(s.Say("valve.stuck"), widgets.Harm, func() {
		shut()
		widgets.AskHarm(s.Win, s.Say("valve.stuck"), s.Say("valve.stuck.then"), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if sure {
				s.done(s.Desk.LiftValve(pot, false, 0))
			}
		})
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("valve.new"), 20, widgets.Ink, true), widgets.NewPara(s.Say("valve.how")),
		widgets.NewStrong(s.Say("caution.open")).SetColor(widgets.Vermilion), at, lifted, stuck, cancel))
}

// trial begins an empty cycle with a test pack only.
func (s *Stage) trial(pot work.Pot, site model.Site) {
	var shut func()
	water, rest := widgets.NewField(s.Say("load.water"), "2.6", nil), widgets.NewField(s.Say("load.rest"), "0", nil)
	widgets.Chain(water, rest)
	begin := widgets.NewButton(s.Say("pot.trial"), widgets.Do, func() {
		w, ok1 := s.Number(water)
		r, ok2 := s.Number(rest)
		if !ok1 || !ok2 {
			return
		}
		id, _, err := s.Desk.Begin(pot, site, work.BeginForm{Item: model.Wrapped, Trial: true, TestPack: true, WaterML: w, Rest: r})
		if err != nil {
			water.SetError(s.Fault(err))
			return
		}
		shut()
		s.Go(ToPot, id)
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("pot.trial"), 20, widgets.Ink, true), widgets.NewPara(s.Say("pot.trial.how")),
		widgets.NewFlow(160, water, rest), widgets.NewFlow(180, cancel, begin)))
}
