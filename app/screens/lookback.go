package screens

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// LookBack is what a comparison, or an altitude that was put right, says of the loads of a pot: each with the verdict that it had and the one that it has now.
func LookBack(s *Stage, pot model.ID) fyne.CanvasObject {
	all, err := s.Desk.InDoubt(pot)
	if err != nil {
		return Page(s.Say("lookback.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewPara(s.Say("lookback.how"))}
	stand, fall, dates := 0, 0, 0
	var rows []fyne.CanvasObject
	for _, l := range worstFirst(all) {
		shape, colour, tag := widgets.Octagon, widgets.Vermilion, s.Say("lookback.falls")
		text := join(s.Say("knot.cycle", count(l.Cycle.Begun.Number)), s.when(l.Cycle), s.Say("lookback.verdicts", s.Say("lookback."+string(l.Was.Verdict)), s.Say("lookback."+string(l.Now.Verdict))),
			s.worth(l))
		switch {
		case l.Stands:
			stand++
			tag = s.Say("lookback.stands")
		case l.Dates && !l.Called:
			dates++
			shape, colour, tag = widgets.Triangle, widgets.Amber, s.Say("lookback.dates.tag")
		case !l.Called:
			fall++
		}
		switch next := l.Next(); next {
		case "":
			shape, colour = widgets.Check, widgets.Green
		case "recall.shelf-only":
			text = join(text, s.Say(next))
		default:
			tag = join(tag, s.Say(next))
		}
		rows = append(rows, widgets.NewRow(shape, colour, tag, text, s.Say("go.cycle"), func() { s.Go(ToCycle, l.ID) }))
	}
	if len(all) > 0 {
		body = append(body, widgets.NewStrong(s.causes(all[len(all)-1])))
	}
	switch {
	case len(all) == 0:
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("lookback.none"))))
	case stand+fall+dates == 0:
		body = append(body, widgets.NewButton(s.Say("lookback.all-called"), widgets.Plain, func() { s.Go(ToRecalls, model.ID{}) }))
	case stand+fall > 0:
		text := s.Say("lookback.settle", count(int64(stand)), count(int64(fall)))
		switch {
		case stand == 0:
			text = s.Words.Count("lookback.settle.call", fall)
		case fall == 0:
			text = s.Words.Count("lookback.settle.free", stand)
		}
		body = append(body, widgets.NewButton(text, widgets.Do, func() {
			s.WithManager(func() {
				s.reason("lookback.ask", func(why string) {
					if _, err := s.Desk.SettleDoubt(pot, why); s.Tell(err) {
						s.Go(ToRecalls, model.ID{})
					}
				})
			})
		}))
	}
	if dates > 0 {
		body = append(body, widgets.NewButton(s.Words.Count("lookback.dates.free", dates), widgets.Plain, func() {
			s.WithManager(func() {
				s.reason("lookback.dates.ask", func(why string) {
					_, err := s.Desk.SettleByDates(pot, why)
					s.done(err)
				})
			})
		}))
	}
	if p, err := s.Desk.Place(); err == nil && slices.ContainsFunc(p.Pots, func(x work.Pot) bool { return x.ID == pot }) {
		rows = append(rows, widgets.NewButton(s.Say("compare.list"), widgets.Plain, func() { s.Go(ToCompare, pot) }))
	}
	return Page(s.Say("lookback.title"), "", append(append(body, rows...), widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToToday, model.ID{}) }), s.Caution())...)
}

// worstFirst puts the loads of which people are to be told before those that only fall, these before those that stand, and what is called back already last.
func worstFirst(all []work.LookedBack) []work.LookedBack {
	rank := func(l work.LookedBack) int {
		switch {
		case l.Called:
			return 3
		case l.Stands:
			return 2
		case l.Patients():
			return 0
		}
		return 1
	}
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b work.LookedBack) int { return rank(a) - rank(b) })
	return out
}

// foundSince says on the page of a load what was found out after it was run, and what its readings show by that: the verdict below is the one of its day.
func (s *Stage) foundSince(c register.Cycle, barred bool) []fyne.CanvasObject {
	l, err := s.Desk.LookBack(c.State.Ref.ID)
	if err != nil || len(l.Causes) == 0 {
		return nil
	}
	tag, colour := s.Say("lookback.falls.long"), widgets.Vermilion
	if l.Stands {
		tag, colour = s.Say("lookback.stands.long"), widgets.Green
	}
	if l.Stands && barred { // by what was found out it stands, and something else stops it
		colour = widgets.InkSoft
	}
	return []fyne.CanvasObject{widgets.NewNotice(colour, tag, join(s.causes(l), s.worth(l), s.Say("lookback.below")))}
}

// causes are what was found out.
func (s *Stage) causes(l work.LookedBack) string {
	var out []string
	for _, c := range l.Causes {
		day := s.Say("cycle.doubt")
		if !c.When.IsZero() {
			day = s.Words.Day(c.When)
		}
		out = append(out, s.Say("lookback.cause."+c.Code, s.Words.Number(c.Off, 1), c.Unit, day))
	}
	return join(out...)
}

// worth is what the readings are worth by what was found out.
func (s *Stage) worth(l work.LookedBack) string {
	least := s.Say("recall.unbounded")
	if l.Now.Guaranteed != nil {
		least = s.Words.Number(math.Floor(*l.Now.Guaranteed*10)/10, 1)
	}
	return s.Say("recall.off", s.Words.Number(math.Floor(l.Now.Held*10)/10, 1), s.Words.Number(l.Now.Asked, 0), s.Words.Number(math.Floor(l.Now.F0*10)/10, 1), least)
}
