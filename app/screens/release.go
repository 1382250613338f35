package screens

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/register"
)

// Release shows what the readings show, asks for the test pack and each pack, and releases or
// rejects. What policy forbids has no button.
func Release(s *Stage, id model.ID) fyne.CanvasObject {
	g, err := s.Desk.Gate(id)
	if err != nil {
		return Page(s.Say("release.nothing"), "", widgets.NewPara(s.Fault(err)))
	}
	n := count(g.Cycle.Begun.Number)
	left := widgets.NewColumn(append(s.stopped(g), Verdict(s, g.Result, s.barred(g.Cycle))...)...)
	var right []fyne.CanvasObject
	right = append(right, s.witness(g)...)
	right = append(right, s.packs(g)...)
	right = append(right, s.decide(g)...)
	return Page(s.Say("release.title", n), s.Words.Count("pot.packs", len(g.Cycle.Begun.Packs)), widgets.NewSplit(left, widgets.NewColumn(right...), 0.46, 720), s.Caution())
}

// stopped says what stops the load whatever its readings show, before them.
func (s *Stage) stopped(g work.Gate) (out []fyne.CanvasObject) {
	codes := map[string]bool{}
	for _, x := range g.Stops {
		switch x.Code {
		case "hold":
			codes[x.Args[0]] = true
		case "pot-grew":
			codes[register.HoldSpore] = true
		}
	}
	return s.holdNotices(g.Cycle, slices.Sorted(maps.Keys(codes)))
}

// holdNotices say what stops a load, by the codes of it.
func (s *Stage) holdNotices(c register.Cycle, codes []string) (out []fyne.CanvasObject) {
	for _, code := range codes {
		out = append(out, widgets.NewNotice(widgets.Vermilion, s.Say("hold."+code), join(s.whyHeld(c.State.Holds, code), s.Say("pack.red"))))
	}
	return out
}

// whyHeld is what was written with the stops of a code that are open, and by whom.
func (s *Stage) whyHeld(holds []register.Hold, code string) string {
	var out []string
	for _, h := range holds {
		var x model.Hold
		if !h.Open() || h.Code != code || h.Cause.Body().Kind != model.KindHold || h.Cause.Body().Decode(&x) != nil {
			continue
		}
		why := x.Reason
		if s.Words.Has("hold.why." + why) { // a code: the program itself stopped it
			why = s.Say("hold.why." + why)
		}
		if said := join(why, s.Desk.Person(h.Cause.Body().Person).Name); said != "" && !slices.Contains(out, said) {
			out = append(out, said)
		}
	}
	return strings.Join(out, "; ")
}

// Verdict is what the readings show, reason by reason. Of a load that something stops since it is no tick: somebody would take it for the last word.
func Verdict(s *Stage, r assess.Result, stopped bool) []fyne.CanvasObject {
	shape, colour := widgets.Check, widgets.Green
	switch r.Verdict {
	case model.NotKnown:
		shape, colour = widgets.Triangle, widgets.InkSoft
	case model.Failed:
		shape, colour = widgets.Octagon, widgets.Vermilion
	}
	line := verdictLine(s, r.Verdict)
	if stopped && r.Verdict == model.Shown {
		shape, colour, line = widgets.Square, widgets.InkSoft, join(s.Say("verdict.day"), line)
	}
	out := []fyne.CanvasObject{
		widgets.NewRow(shape, colour, s.Say("verdict."+string(r.Verdict)+".short"), line, "", func() {}),
		widgets.NewStrong(s.Say("verdict.held", paper.Tenth(r.Held), strconv.FormatFloat(r.Asked, 'f', -1, 64)))}
	for _, x := range r.Reasons {
		out = append(out, widgets.NewPara("– "+s.Say("reason."+x.Code, x.Args...)))
	}
	guaranteed := s.Say("verdict.unbounded")
	if r.Guaranteed != nil {
		guaranteed = s.Say("verdict.guaranteed", paper.Tenth(*r.Guaranteed))
	}
	return append(out, widgets.NewSoft(join(guaranteed, s.Say("verdict.equivalent", paper.Tenth(r.E121)), s.Say("verdict.f0", paper.Tenth(r.F0)), s.Say("verdict.rule", r.Rule))),
		widgets.NewSoft(s.Say("caution.chamber")))
}

// verdictLine speaks of the readings: what they show holds if the air is out; what they deny, anyway.
func verdictLine(s *Stage, v model.Verdict) string {
	if v == model.Failed {
		return s.Say("verdict." + string(v))
	}
	return s.Say("verdict."+string(v)) + ", " + s.Say("verdict.if")
}

func (s *Stage) witness(g work.Gate) []fyne.CanvasObject {
	id := g.Cycle.State.Ref.ID
	if w := g.Cycle.Witness; w != nil {
		word := s.Say("release.witness.bad")
		if w.Reached {
			word = s.Say("release.witness.ok")
		}
		out := []fyne.CanvasObject{widgets.NewStrong(s.Say("release.witness.done", word))}
		if w.Reached && !g.Cycle.Settled() { // a slip of the finger: bad news is always taken
			out = append(out, widgets.NewButton(s.Say("release.witness.after-all"), widgets.Quiet, func() {
				s.WithPerson(func() { s.done(s.Desk.Witnessed(id, model.Witness{Kind: w.Kind, Reached: false})) })
			}))
		}
		return out
	}
	if g.Cycle.Settled() {
		return nil
	}
	strip := func(reached bool) func() {
		return func() {
			s.WithPerson(func() { s.done(s.Desk.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: reached})) })
		}
	}
	return []fyne.CanvasObject{widgets.NewStrong(s.Say("release.witness")), widgets.NewFlow(130,
		widgets.NewButton(s.Say("release.witness.reached"), widgets.Do, strip(true)),
		widgets.NewButton(s.Say("release.witness.not"), widgets.Do, strip(false)),
		widgets.NewButton(s.Say("release.witness.thermo"), widgets.Plain, func() { s.thermometer(id) }))}
}

func (s *Stage) thermometer(id model.ID) {
	var shut func()
	f := widgets.NewField(s.Say("release.thermo.ask"), "121", nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		v, ok := s.Number(f)
		if !ok {
			return
		}
		shut()
		s.WithPerson(func() { s.done(s.Desk.Witnessed(id, model.Witness{Kind: model.WitnessThermometer, MaxMilli: v})) })
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(f, widgets.NewFlow(160, cancel, save)))
	f.Focus()
}

// done shows the screen anew after an act, or what was wrong.
func (s *Stage) done(err error) {
	if s.Tell(err) {
		s.Note("act")
		s.Again()
	}
}

// packs asks for each pack, once they are cool: good unless something is seen.
func (s *Stage) packs(g work.Gate) []fyne.CanvasObject {
	if g.Cycle.Trial() || g.Cycle.Unloaded != nil || g.Cycle.Settled() || g.Cycle.Closed == nil {
		return nil
	}
	id := g.Cycle.State.Ref.ID
	cool := widgets.NewChoice([]string{s.Say("release.cool")}, -1, nil)
	objs := []fyne.CanvasObject{widgets.NewStrong(s.Say("release.packs")), cool}
	var picks []*widgets.Choice
	for _, p := range g.Cycle.Begun.Packs {
		c := widgets.NewChoice([]string{s.Say("release.pack.good"), s.Say("release.pack.tape"), s.Say("release.pack.wet"), s.Say("release.pack.torn")}, -1, nil)
		picks = append(picks, c)
		objs = append(objs, widgets.NewPara(strings.TrimSuffix(s.Say("release.pack", p.Label, p.Set), " · ")), c)
	}
	return append(objs, widgets.NewButton(s.Say("release.pack.save"), widgets.Do, func() {
		var checks []model.PackCheck
		for i, p := range g.Cycle.Begun.Packs {
			k := model.PackCheck{Pack: p.ID, TapeOK: true, Dry: true, WrapOK: true, NoTape: !p.Tape}
			switch picks[i].Selected {
			case -1:
				s.Message(s.Say("refuse.packs-not-all-checked"))
				return
			case 1:
				k.TapeOK, k.NoTape = false, false
			case 2:
				k.Dry = false
			case 3:
				k.WrapOK = false
			}
			checks = append(checks, k)
		}
		s.WithPerson(func() { s.done(s.Desk.Unload(id, checks, cool.Selected == 0)) })
	}))
}

// decide offers what may be done, and says what stands in the way.
func (s *Stage) decide(g work.Gate) []fyne.CanvasObject {
	id := g.Cycle.State.Ref.ID
	if g.Cycle.Settled() {
		return []fyne.CanvasObject{widgets.NewButton(s.Say("go.cycle"), widgets.Do, func() { s.Go(ToCycle, id) })}
	}
	var objs []fyne.CanvasObject
	if len(g.Stops) > 0 {
		objs = append(objs, widgets.NewStrong(s.Say("release.stops")))
		for _, x := range g.Stops {
			args := x.Args
			if x.Code == "hold" {
				args = []string{s.Say("hold." + x.Args[0])}
			}
			objs = append(objs, widgets.NewPara("– "+s.Say("gate."+x.Code, args...)))
		}
	}
	for _, h := range g.Cycle.State.Holds {
		if h.Open() && slices.Contains(work.Clearable, h.Code) {
			objs = append(objs, widgets.NewButton(s.Say("release.clear", s.Say("hold."+h.Code)), widgets.Plain, func() {
				s.WithManager(func() {
					s.reason("release.clear.ask", func(why string) { s.done(s.Desk.ClearHold(g.Cycle.State.Ref, h.Code, why)) })
				})
			}))
		}
	}
	for _, p := range g.Bad {
		objs = append(objs, widgets.NewPara("– "+p.Label+": "+s.Say("usable.held")))
	}
	if g.Open() {
		var names []string
		for _, p := range g.Good {
			names = append(names, p.Label)
		}
		objs = append(objs, widgets.NewStrong(join(names...)))
		objs = append(objs, widgets.NewButton(s.Say("release.do", s.Words.Count("pot.packs", len(g.Good))), widgets.Do, func() { s.release(g) }))
	}
	if g.Cycle.Closed != nil {
		objs = append(objs, widgets.NewButton(s.Say("release.reject"), widgets.Harm, func() { s.reject(id) }))
	}
	return append(objs, widgets.NewButton(s.Say("release.keep"), widgets.Quiet, func() { s.Go(ToToday, model.ID{}) }))
}

func (s *Stage) release(g work.Gate) {
	id := g.Cycle.State.Ref.ID
	free := func(reason string) {
		s.WithPerson(func() {
			if s.Tell(s.Desk.Release(id, reason)) {
				s.Note("released")
				s.Go(ToCycle, id)
				s.Message(s.Say("release.done"))
			}
		})
	}
	if g.Override {
		s.reason("release.named", free)
		return
	}
	free("")
}

func (s *Stage) reject(id model.ID) {
	widgets.AskHarm(s.Win, s.Say("release.reject"), s.Say("release.reject.ask"), s.Say("do.yes"), s.Say("do.no"), func(yes bool) {
		if yes {
			s.WithPerson(func() {
				if s.Tell(s.Desk.Reject(id, s.Say("release.reject.reason"))) {
					s.Note("rejected")
					s.Go(ToCycle, id)
					s.Message(s.Say("release.rejected"))
				}
			})
		}
	})
}

// reason asks for a sentence.
func (s *Stage) reason(key string, then func(string)) { s.reasonFor(s.Say(key), then) }

// reasonFor is reason with a sentence of its own.
func (s *Stage) reasonFor(text string, then func(string)) {
	var shut func()
	f := widgets.NewField(s.Say("release.reason"), "", nil)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		if strings.TrimSpace(f.Text()) == "" {
			f.SetError(s.Say("refuse.reason-missing"))
			return
		}
		shut()
		then(f.Text())
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewPara(text), f, widgets.NewFlow(160, cancel, save)))
	f.Focus()
}
