package screens

import (
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Tests shows what the marks and the trust in a pot rest on: spore tests, the gauge beside a reference, the safety valve. Each
// spells out what follows before it is saved.
func Tests(s *Stage) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return Page(s.Say("tests.title"), "", widgets.NewPara(s.Fault(err)))
	}
	pot := place.Pots[0]
	tests, err := s.Desk.SporeTests(30)
	if err != nil {
		return Page(s.Say("tests.title"), "", widgets.NewPara(s.Fault(err)))
	}
	act := func(key string, look widgets.Look, tap func()) fyne.CanvasObject {
		return widgets.NewButton(s.Say(key), look, func() { s.WithPerson(tap) })
	}
	body := []fyne.CanvasObject{widgets.NewFlow(220,
		act("spore.new", widgets.Do, s.placeSpore), act("compare.new", widgets.Plain, func() { s.Go(ToCompare, pot.ID) }),
		act("valve.new", widgets.Plain, func() { s.liftValve(pot) }),
		widgets.NewButton(s.Say("care.title"), widgets.Plain, func() { s.Go(ToCare, pot.ID) }),
		widgets.NewButton(s.Say("incident.title"), widgets.Plain, func() { s.Go(ToIncidents, model.ID{}) }),
		widgets.NewButton(s.Say("recall.title"), widgets.Plain, func() { s.Go(ToRecalls, model.ID{}) }),
		widgets.NewButton(s.Say("reference.title"), widgets.Plain, func() { s.Go(ToReferences, model.ID{}) }))}
	if proven, err := s.Desk.Proven(pot.ID); err == nil && !proven.Done() {
		body = append(body, widgets.NewNotice(widgets.Amber, s.Say("commission.of", pot.Looks.Name, count(proven.Good), count(proven.Need)), s.Say("commission.how")),
			act("pot.trial", widgets.Plain, func() { s.trial(pot, place.Site) }))
	}
	for _, code := range pot.Why {
		body = append(body, widgets.NewNotice(widgets.Vermilion, s.Say("today.pot-out", pot.Looks.Name), s.Say("hold."+code)))
		switch code {
		case register.HoldSpore:
			body = append(body, widgets.NewPara(s.Say("pot.back.spore")), act("pot.trial", widgets.Plain, func() { s.trial(pot, place.Site) }))
			fallthrough
		case register.HoldValve:
			body = append(body, act("pot.back", widgets.Plain, func() {
				if s.Tell(s.Desk.MayManage()) {
					s.reason("pot.back.ask", func(why string) { s.done(s.Desk.BackToService(pot, code, why)) })
				}
			}))
		}
	}
	body = append(body, widgets.NewPara(s.compared(pot)), widgets.NewStrong(s.Say("spore.list")))
	for _, t := range tests {
		body = append(body, s.sporeRow(t))
	}
	if len(tests) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("spore.none"))))
	}
	return Page(s.Say("tests.title"), s.Say("load.pot", pot.Looks.Name), append(body, widgets.NewSoft(s.Say("spore.altitude")))...)
}

func (s *Stage) compared(pot work.Pot) string {
	at, ok, err := s.Desk.LastCompared(pot)
	switch {
	case err != nil:
		return s.Fault(err)
	case !ok:
		return s.Say("today.gauge-never", pot.Looks.Name)
	}
	return s.Say("compare.last", s.Words.Day(at))
}

func (s *Stage) sporeRow(t work.SporeTest) fyne.CanvasObject {
	shape, colour, tap := widgets.Square, widgets.InkSoft, func() {}
	action := ""
	switch t.Said {
	case model.SporePositive:
		shape, colour = widgets.Octagon, widgets.Vermilion
	case model.SporeNegative:
		shape, colour, action = widgets.Check, widgets.Green, s.Say("spore.read-again")
	case model.SporeWaiting:
		shape, colour, action = widgets.Disc, widgets.Blue, s.Say("spore.read")
	case model.SporeVoid:
		shape, action = widgets.Triangle, s.Say("spore.read-again")
	}
	if t.Said != model.SporePositive { // growth seen later is always taken
		tap = func() { s.WithPerson(func() { s.readSpore(t) }) }
	}
	when := ""
	if at, known, err := s.Desk.Corrected(t.PlacedBy); err == nil && known {
		when = s.Words.Day(at)
	}
	return widgets.NewRow(shape, colour, s.Say("spore."+string(t.Said)), join(s.Say("knot.cycle", count(t.Number)), when, s.Say("spore.lot", t.Placed.Lot), t.Placed.SentTo), action, tap)
}

// placeSpore asks which load, lot and control.
func (s *Stage) placeSpore() {
	ids, err := s.Desk.LatestCycles(3)
	if !s.Tell(err) {
		return
	}
	var names []string
	for _, id := range ids {
		c, err := s.Desk.Cycle(id)
		if !s.Tell(err) {
			return
		}
		names = append(names, s.Say("knot.cycle", count(c.Begun.Number)))
	}
	if len(ids) == 0 {
		s.Message(s.Say("spore.no-cycle"))
		return
	}
	var shut func()
	cycle := widgets.NewChoice(names, -1, nil)
	lot, expires := widgets.NewField(s.Say("spore.lot.ask"), "", nil), widgets.NewField(s.Say("spore.expires"), "2027-03", nil)
	sent := widgets.NewField(s.Say("spore.sent"), s.Say("spore.sent.hint"), nil)
	widgets.Chain(lot, expires, sent)
	control := widgets.NewChoice([]string{s.Say("do.yes"), s.Say("do.no")}, -1, nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if cycle.Selected < 0 || control.Selected < 0 {
			s.Message(s.Say("refuse.choose", s.Say("spore.cycle"), s.Say("spore.control")))
			return
		}
		last, ok := endOf(expires.Text())
		if !ok {
			expires.SetError(s.Say("refuse.month"))
			return
		}
		_, err := s.Desk.PlaceSpore(ids[cycle.Selected], model.SporePlaced{Lot: lot.Text(), Expires: last.UnixMilli(), Control: control.Selected == 0, SentTo: sent.Text()})
		if err != nil {
			lot.SetError(s.Fault(err))
			return
		}
		shut()
		s.Again()
		if last.Before(s.Desk.Clock.Now().Wall) {
			s.Message(s.Say("spore.expired"))
		}
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("spore.new"), 20, widgets.Ink, true), widgets.NewPara(s.Say("spore.cycle")), cycle,
		widgets.NewFlow(220, lot, expires, sent), widgets.NewPara(s.Say("spore.control")), control, widgets.NewFlow(180, cancel, save)))
}

// endOf reads a month or a day and gives its end.
func endOf(text string) (time.Time, bool) {
	text = strings.TrimSpace(text)
	if t, err := time.Parse("2006-01", text); err == nil {
		return t.AddDate(0, 1, 0).Add(-time.Second), true
	}
	t, err := time.Parse(time.DateOnly, text)
	return t.AddDate(0, 0, 1).Add(-time.Second), err == nil
}

// readSpore asks what grew, and says what follows before it is saved.
func (s *Stage) readSpore(t work.SporeTest) {
	var shut func()
	yes := func() *widgets.Choice {
		return widgets.NewChoice([]string{s.Say("spore.grew"), s.Say("spore.not-grew")}, -1, nil)
	}
	test, control := yes(), yes()
	hours, degrees := widgets.NewField(s.Say("spore.hours"), "48", nil), widgets.NewField(s.Say("spore.degrees"), "57", nil)
	widgets.Chain(hours, degrees)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if test.Selected < 0 || control.Selected < 0 {
			s.Message(s.Say("refuse.choose", s.Say("spore.test"), s.Say("spore.the-control")))
			return
		}
		h, ok1 := s.Number(hours)
		d, ok2 := s.Number(degrees)
		if !ok1 || !ok2 {
			return
		}
		r := model.SporeRead{Grew: test.Selected == 0, ControlGrew: control.Selected == 0, Hours: h / 1000, Degrees: d / 1000, At: s.Desk.Clock.Now().Wall.UnixMilli()}
		said := t.Placed.Says(r)
		widgets.Ask(s.Win, s.Say("spore."+string(said)), s.Say("spore."+string(said)+".then"), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if !sure {
				return
			}
			if _, err := s.Desk.ReadSpore(t.ID, r); s.Tell(err) {
				shut()
				s.Again()
			}
		})
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(join(s.Say("spore.read"), s.Say("knot.cycle", strconv.FormatInt(t.Number, 10))), 20, widgets.Ink, true),
		widgets.NewPara(s.Say("spore.test")), test, widgets.NewPara(s.Say("spore.the-control")), control, widgets.NewFlow(150, hours, degrees), widgets.NewFlow(180, cancel, save)))
}
