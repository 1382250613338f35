package screens

import (
	"errors"
	"image/color"
	"io"
	"slices"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

const cyclesShown = 40

// Cycles lists the latest cycles, newest first.
func Cycles(s *Stage) fyne.CanvasObject {
	ids, err := s.Desk.LatestCycles(cyclesShown)
	if err != nil {
		return Page(s.Say("cycles.title"), "", widgets.NewPara(s.Fault(err)))
	}
	var rows []fyne.CanvasObject
	var cycles []register.Cycle
	for _, id := range ids {
		c, err := s.Desk.Cycle(id)
		if err != nil {
			rows = append(rows, widgets.NewPara(s.Fault(err)))
			continue
		}
		cycles = append(cycles, c)
	}
	rows = append(rows, s.cycleRows(cycles)...)
	if len(rows) == 0 {
		if office, err := s.Desk.Office(); err == nil && office {
			rows = append(rows, widgets.NewPara(s.Say("office.not-listed")))
		} else {
			rows = append(rows, widgets.NewPara(s.Say("cycles.none")))
		}
	}
	return Page(s.Say("cycles.title"), "", rows...)
}

// cycleRows are lines of cycles, each with what became of it.
func (s *Stage) cycleRows(cycles []register.Cycle) (rows []fyne.CanvasObject) {
	stopped, err := s.Desk.StoppedBy(cycles...)
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	for _, c := range cycles {
		id := c.State.Ref.ID
		state, shape, colour := stateOf(c, len(stopped[id]) > 0)
		rows = append(rows, widgets.NewRow(shape, colour, s.Say("state."+state), s.Say("cycles.row", count(c.Begun.Number), s.when(c)), s.Say("go.cycle"), func() { s.Go(ToCycle, id) }))
	}
	return rows
}

// when is the day and hour a cycle began; a doubtful date says so.
func (s *Stage) when(c register.Cycle) string {
	t, known, err := s.Desk.Began(c)
	if err != nil || !known {
		return s.Say("cycle.doubt")
	}
	return s.Words.Day(t) + " " + s.Words.Clock(t)
}

// state is the word, shape and colour of a cycle.
func (s *Stage) state(c register.Cycle) (code string, shape widgets.Shape, colour color.Color) {
	return stateOf(c, len(s.stopsOn(c)) > 0)
}

// stateOf is that of a cycle of which is known whether something stops it, on it or on its pot.
func stateOf(c register.Cycle, stopped bool) (code string, shape widgets.Shape, colour color.Color) {
	switch {
	case c.Aborted():
		return "aborted", widgets.Cross, widgets.InkSoft
	case len(c.Rejected) > 0:
		return "rejected", widgets.Octagon, widgets.Vermilion
	case c.State.Stopped():
		return "held", widgets.Octagon, widgets.Vermilion
	case c.ToConfirm:
		return "to-confirm", widgets.Triangle, widgets.Vermilion
	case stopped && len(c.Released) > 0: // all loads of its pot are, until it is known good or they are freed by name
		return "pot-stopped", widgets.Triangle, widgets.Vermilion
	case len(c.Released) > 0:
		var r model.Release
		if c.Released[0].Body().Decode(&r) == nil && r.Override {
			return "not-known-released", widgets.Triangle, widgets.InkSoft
		}
		return "released", widgets.Check, widgets.Green
	case c.Closed == nil:
		return "running", widgets.Disc, widgets.Blue
	case c.Trial() && c.Settled():
		return "trial", widgets.Check, widgets.Green
	}
	return "waiting", widgets.Square, widgets.Blue
}

// stopsOn is what stops a load, on it or on its pot. What cannot be read stops it, too.
func (s *Stage) stopsOn(c register.Cycle) []register.Hold {
	all, err := s.Desk.StoppedBy(c)
	if err != nil {
		return []register.Hold{{Code: register.HoldUnreadable}}
	}
	return all[c.State.Ref.ID]
}

// barred says that nothing of the load may be used: something stops it, or it was rejected.
func (s *Stage) barred(c register.Cycle) bool { return len(s.stopsOn(c)) > 0 || len(c.Rejected) > 0 }

// Cycle is the page of one cycle: curve, verdict, steps, readings, what became of it.
func Cycle(s *Stage, id model.ID) fyne.CanvasObject {
	c, err := s.Desk.Cycle(id)
	if err != nil {
		return Page(s.Say("cycles.title"), "", widgets.NewPara(s.Fault(err)))
	}
	r, err := s.Desk.Judge(c)
	if err != nil {
		return Page(s.Say("cycles.title"), "", widgets.NewPara(s.Fault(err)))
	}
	place, _ := s.Desk.Place()
	pot, _ := place.Pot(c.Begun.Sterilizer)
	stops := s.stopsOn(c)
	barred := len(stops) > 0 || len(c.Rejected) > 0
	state, _, _ := stateOf(c, len(stops) > 0)
	who := s.Desk.Person(c.Entry.Body().Person).Name
	if who == "" { // of another clinic the office knows no people
		who = s.siteName(s.Desk.SiteOfCycle(c), "")
	}
	body := []fyne.CanvasObject{s.curveOf(c), widgets.NewPara(join(s.Say("cycle.begun", s.when(c), "", who), s.fromPaper(c), s.Say("item."+string(c.Begun.Item))))}
	if settled := paper.Settled(s.Desk, c, s.Words); settled != "" {
		body = append(body, widgets.NewStrong(settled))
	}
	body = append(body, s.heldBy(c, stops)...)
	body = append(body, s.foundSince(c, barred)...)
	body = append(body, s.labels(c, barred)...)
	buttons := []fyne.CanvasObject{widgets.NewButton(s.Say("cycle.sheet"), widgets.Plain, func() { s.cycleSheet(c) })}
	if !c.Settled() && c.Closed != nil {
		buttons = append(buttons, widgets.NewButton(s.Say("cycle.to-release"), widgets.Do, func() { s.Go(ToRelease, id) }))
	}
	if c.Closed != nil && !c.Aborted() && len(c.Rejected) == 0 && !c.Trial() {
		buttons = append(buttons, widgets.NewButton(s.Say("cycle.stop"), widgets.Harm, func() {
			s.reason("cycle.stop.ask", func(why string) { s.WithPerson(func() { s.done(s.Desk.Stop(id, why)) }) })
		}))
	}
	if len(c.Released) > 0 { // also of one that was rejected since: its packs may be out
		buttons = append(buttons, widgets.NewButton(s.Say("cycle.recall"), widgets.Quiet, func() { s.WithPerson(func() { s.recallLoad(c) }) }))
	}
	body = append(body, widgets.NewFlow(220, buttons...), widgets.NewSplit(widgets.NewColumn(Verdict(s, r, barred)...), widgets.NewColumn(s.told(c)...), 0.55, 720), s.Caution())
	title := s.Say("cycle.title", count(c.Begun.Number), pot.Looks.Name)
	if pot.Looks.Name == "" { // another clinic's
		title = s.elsewhere(c)
	}
	return Page(title, s.Say("state."+state), body...)
}

// heldBy is what stops a load, each with what was written with it; what stops its pot stands apart, since it may not have been seen in this load.
func (s *Stage) heldBy(c register.Cycle, stops []register.Hold) (out []fyne.CanvasObject) {
	var own, pot []register.Hold
	for _, h := range stops {
		switch {
		case !s.Words.Has("hold." + h.Code):
		case slices.ContainsFunc(c.State.Holds, func(o register.Hold) bool { return o.ID == h.ID }):
			own = append(own, h)
		default:
			pot = append(pot, h)
		}
	}
	for _, code := range register.Codes(pot) {
		out = append(out, widgets.NewNotice(widgets.Vermilion, join(s.Say("state.pot-stopped"), s.Say("hold."+code)), s.Say("pack.red")))
	}
	return append(s.holdNotices(c, register.Codes(own)), out...)
}

// elsewhere names a load of another clinic.
func (s *Stage) elsewhere(c register.Cycle) string {
	return join(s.Say("knot.cycle", count(c.Begun.Number)), s.siteName(s.Desk.SiteOfCycle(c), ""))
}

func (s *Stage) fromPaper(c register.Cycle) string {
	if c.Begun.Source != model.FromPaper {
		return ""
	}
	t, _, err := s.Desk.Corrected(c.Entry)
	if err != nil {
		return ""
	}
	return s.Say("cycle.paper", s.Words.Day(t))
}

// labels dictates what now goes onto each label, for the pen: only of packs that may be used.
func (s *Stage) labels(c register.Cycle, barred bool) []fyne.CanvasObject {
	if len(c.Released) == 0 || barred { // there is nothing to write onto them
		return []fyne.CanvasObject{widgets.NewPara(s.Say("cycle.packs", packNames(c)))}
	}
	t, known, err := s.Desk.Began(c)
	rules, ruleErr := s.Desk.Rules()
	err = errors.Join(err, ruleErr)
	head := s.Words.Count("pot.packs", len(c.Begun.Packs))
	var out []fyne.CanvasObject
	var marks []paper.ReleaseMark
	for _, p := range c.Begun.Packs {
		a, e := s.Desk.Usable(p.ID)
		view, e2 := s.Desk.Pack(p.ID)
		if e = errors.Join(err, e, e2); e != nil {
			out = append(out, widgets.NewPara(p.Label+" — "+s.Fault(e)))
			continue
		}
		if a.Word != register.Usable || !known {
			state := s.Say("shelf." + string(view.State))
			if a.Word == register.Usable {
				state = s.Say("cycle.doubt")
			}
			out = append(out, widgets.NewPara(p.Label+" — "+state))
			continue
		}
		days := work.ShelfDays(rules, view.Pack, c.Begun.Item)
		line := work.CopyLine(p, c.Begun.Number, t, days)
		mark := paper.ReleaseMark{Number: p.Label, Load: count(c.Begun.Number), Sterilized: s.Words.Day(t), LastDay: s.Words.Day(work.LastDay(t, days)), Check: work.CopyCheck(p, c.Begun.Number, t, days)}
		if a.Override {
			mark.Note = s.Say("state.not-known-released")
			line += " · " + mark.Note
		}
		if days > 0 { // what is for immediate use has no last day
			marks = append(marks, mark)
		}
		out, head = append(out, widgets.NewBig(line, 19, widgets.Ink, true)), s.Say("cycle.copy")
	}
	if len(marks) > 0 {
		out = append(out, widgets.NewButton(s.Say("label.print-marks"), widgets.Plain, func() { s.printMarks(c, marks) }))
	}
	return []fyne.CanvasObject{widgets.NewCard(widgets.NewColumn(append([]fyne.CanvasObject{widgets.NewStrong(head)}, out...)...))}
}

// printMarks writes the second, small labels of a released load.
func (s *Stage) printMarks(c register.Cycle, marks []paper.ReleaseMark) {
	s.chooseGrid(len(marks), func(g paper.Grid, from int) {
		s.Write("release-"+count(c.Begun.Number)+".pdf", func(w io.Writer) error { return paper.ReleaseMarks(w, s.Words, g, from, marks) })
	})
}

func packNames(c register.Cycle) string {
	var names []string
	for _, p := range c.Begun.Packs {
		names = append(names, p.Label)
	}
	return join(names...)
}

// told lists steps and readings as they were recorded, corrections beside them.
func (s *Stage) told(c register.Cycle) []fyne.CanvasObject {
	out := []fyne.CanvasObject{widgets.NewStrong(s.Say("cycle.steps"))}
	for _, st := range c.Steps {
		out = append(out, widgets.NewPara(s.Say("cycle.by", s.Say("pot.ready", paper.Tenth(float64(st.At)/60000)), s.Say("step."+string(st.Code)))))
	}
	out = append(out, widgets.NewStrong(s.Say("cycle.readings")))
	for _, r := range c.Readings {
		line := s.Say("cycle.reading", paper.Tenth(float64(r.At)/60000), s.Figure(r.NeedleMilli), c.Begun.Plan.Unit)
		switch r.Answer {
		case model.Stayed:
			line = join(line, s.Say("cycle.reading.stayed", s.Figure(c.Begun.Plan.RestartMilli)))
		case model.Dipped:
			line = join(line, s.Say("cycle.reading.dipped", s.Figure(r.LowestMilli)))
		case model.LookedAway:
			line = join(line, s.Say("cycle.reading.away"))
		}
		out = append(out, widgets.NewPara(line))
	}
	return out
}

func (s *Stage) cycleSheet(c register.Cycle) {
	told, err := paper.Tell(s.Desk, c, s.Words)
	if !s.Tell(err) {
		return
	}
	s.Write("cycle-"+count(c.Begun.Number)+".pdf", func(w io.Writer) error { return paper.CycleSheet(w, s.Words, paper.A4, told) })
}

// curveOf draws a finished cycle.
func (s *Stage) curveOf(c register.Cycle) fyne.CanvasObject {
	spec := widgets.CurveSpec{Level: float64(c.Begun.Plan.RestartMilli) / 1000, Bead: -1}
	if st, ok := c.Step(model.StepVentEnd); ok {
		spec.Real = append(spec.Real, widgets.Point{}, widgets.Point{X: float64(st.At) / 60000})
	}
	for i, r := range c.Readings {
		if i > 0 && r.At-c.Readings[i-1].At > c.Begun.Plan.GapMinutes*60000 {
			spec.Gaps = append(spec.Gaps, len(spec.Real)-1)
		}
		spec.Real = append(spec.Real, widgets.Point{X: float64(r.At) / 60000, Y: float64(r.NeedleMilli) / 1000})
	}
	if st, ok := c.Step(model.StepZero); ok {
		spec.Real = append(spec.Real, widgets.Point{X: float64(st.At) / 60000})
	}
	for _, st := range c.Steps {
		if st.Code != model.StepDried && st.Code != model.StepCooled {
			text := "step." + string(st.Code)
			if short := "step.short." + string(st.Code); s.Words.Has(short) { // there is little room under the curve
				text = short
			}
			spec.Steps = append(spec.Steps, widgets.StepMark{At: float64(st.At) / 60000, Text: s.Say(text)})
		}
	}
	spec.Ideal = spec.Real
	return widgets.NewCurve(spec)
}
