package pot

import (
	"math"
	"slices"
	"strconv"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/model"
	body "mvuke/steam/pot"
)

// stepHold is the time between the closed valve and the drawn fire.
const stepHold model.StepCode = "hold"

// order of the steps that are taken one by one.
var order = []model.StepCode{model.StepLidShut, model.StepLit, model.StepVentStart, model.StepVentEnd, stepHold,
	model.StepSteamOut, model.StepZero, model.StepOpened, model.StepDried, model.StepCooled}

// phaseCode is the step that is to be taken next; "" when all are.
func (r *Run) phaseCode() model.StepCode {
	for _, code := range order {
		ask := code
		if code == stepHold {
			ask = model.StepFireDrawn
		}
		if _, done := r.cycle.Step(ask); !done {
			return code
		}
	}
	return ""
}

// phase builds the panel of the present step: one idea, one question.
func (r *Run) phase() []fyne.CanvasObject {
	r.Note("phase " + string(r.phaseCode()))
	if r.forbidden() {
		return []fyne.CanvasObject{r.leaveAndOther()}
	}
	switch code := r.phaseCode(); code {
	case "":
		return []fyne.CanvasObject{r.do("pot.close", func() { r.finish() })}
	case model.StepVentEnd:
		return r.vent()
	case stepHold:
		return r.hold()
	case model.StepZero:
		return append(r.simple(code), r.other())
	default:
		return append(r.simple(code), r.leaveAndOther())
	}
}

// forbidden says that bad news of the pot came before the fire was lit: none is lit.
func (r *Run) forbidden() bool {
	_, lit := r.cycle.Step(model.StepLit)
	return !lit && !r.pot.MayLight() && len(r.cycle.Begun.Packs) > 0
}

func (r *Run) do(key string, tap func()) *widgets.Button {
	return widgets.NewButton(r.Say(key), widgets.Do, tap)
}

// cautions that belong to one step, beside those that stand under every one.
var cautions = map[model.StepCode][]string{
	model.StepLidShut:   {"caution.bolts"},
	model.StepLit:       {"caution.dry", "caution.fire"},
	model.StepVentStart: {"caution.tool"},
	model.StepSteamOut:  {"caution.blocked", "caution.tool"},
	model.StepOpened:    {"caution.bolts", "caution.vacuum"},
}

// simple is a step with a sentence on how and one big button.
func (r *Run) simple(code model.StepCode) []fyne.CanvasObject {
	arg := ""
	switch code {
	case model.StepLit:
		arg = r.Words.Number(float64(r.cycle.Begun.WaterML)/1000, 1)
	case model.StepVentStart:
		arg = strconv.FormatInt(r.cycle.Begun.Plan.VentMinutes, 10)
	}
	key := "pot." + string(code)
	timer := widgets.NewSoft("")
	started := r.Desk.Elapsed(r.cycle)
	if n := len(r.cycle.Steps); n > 0 {
		started = time.Duration(r.cycle.Steps[n-1].At) * time.Millisecond
	}
	advice, write := r.advice()
	r.clock = func() {
		timer.SetText(r.Say("pot.ready", minutes(r.Desk.Elapsed(r.cycle)-started)))
		write()
	}
	objs := []fyne.CanvasObject{widgets.NewBig(r.Say(key), 26, widgets.Ink, true), widgets.NewPara(r.Say(key+".how", arg)), timer}
	for _, c := range cautions[code] {
		objs = append(objs, widgets.NewNotice(widgets.Amber, r.Say(c), ""))
	}
	r.below = advice
	return append(objs, r.do(key+".do", func() { r.ask(code) }))
}

// ventMore says that at this fire the vent is not long enough yet.
func (r *Run) ventMore() bool {
	as, err := r.Desk.Advice(r.cycle, 0)
	return err == nil && slices.ContainsFunc(as, func(a body.Advice) bool { return a.Code == body.VentLonger })
}

// soonest is the time from lighting before which steady steam is asked for again: two litres and a pot do not boil sooner.
const soonest = 6 * time.Minute

// ask takes a step, after a question where it comes sooner than it can.
func (r *Run) ask(code model.StepCode) {
	lit, ok := r.cycle.Step(model.StepLit)
	gone := r.Desk.Elapsed(r.cycle) - time.Duration(lit.At)*time.Millisecond
	if code != model.StepVentStart || !ok || gone >= soonest {
		r.take(code)
		return
	}
	widgets.AskHarm(r.Win, r.Say("pot.vent-start"), r.Say("pot.vent-start.early", minutes(gone)), r.Say("do.yes"), r.Say("do.no"), func(yes bool) {
		if yes {
			r.take(code)
		}
	})
}

// take records a step; with zero and opening the needle is on rest by the person's word.
func (r *Run) take(code model.StepCode) {
	var needle *int64
	if code == model.StepZero || code == model.StepOpened {
		rest := r.cycle.Begun.RestMilli
		needle = &rest
	}
	r.act(r.Desk.Step(r.id, code, needle))
}

// vent counts the minutes of steady steam; closed too early it asks first.
func (r *Run) vent() []fyne.CanvasObject {
	s, _ := r.cycle.Step(model.StepVentStart)
	want := time.Duration(r.cycle.Begun.Plan.VentMinutes) * time.Minute
	big := widgets.NewBig("", 52, widgets.Ink, true)
	gone := func() time.Duration { return r.Desk.Elapsed(r.cycle) - time.Duration(s.At)*time.Millisecond }
	shut := r.do("pot.vent-end.do", func() {
		if g := gone(); g < want {
			widgets.AskHarm(r.Win, r.Say("pot.vent-end"), r.Say("pot.vent-end.early", minutes(g), minutes(want)), r.Say("do.yes"), r.Say("do.no"), func(yes bool) {
				if yes {
					r.take(model.StepVentEnd)
				}
			})
			return
		}
		r.take(model.StepVentEnd)
	})
	rung := false
	advice, write := r.advice()
	r.clock = func() {
		write()
		big.SetText(r.Say("pot.vent.count", minutes(gone()), minutes(want)))
		if gone() >= want && !rung && !r.ventMore() {
			rung = true
			shut.SetLook(widgets.Do)
			r.Beep()
		}
	}
	if gone() < want || r.ventMore() {
		shut.SetLook(widgets.Plain)
	}
	return []fyne.CanvasObject{widgets.NewStrong(r.Say("pot.vent-end")), big, widgets.NewPara(r.Say("pot.vent-end.how", minutes(want))), advice, shut, r.leaveAndOther()}
}

// hold minds the needle: minutes held, the needle now, then one of three equal answers.
func (r *Run) hold() []fyne.CanvasObject {
	f := r.cycle.Begun.Plan
	held := math.Floor(r.result.Running + 1e-9)
	objs := []fyne.CanvasObject{}
	if r.result.Held >= float64(f.Minutes) {
		objs = append(objs, widgets.NewNotice(widgets.Green, r.Say("pot.done"), r.Say("pot.done.how")), r.do("pot.fire-drawn.do", func() { r.act(r.Desk.Step(r.id, model.StepFireDrawn, nil)) }))
	} else {
		objs = append(objs, widgets.NewBig(r.Say("pot.hold", strconv.FormatFloat(held, 'f', 0, 64), strconv.FormatInt(f.Minutes, 10)), 30, widgets.Ink, true))
	}
	if vented, want := r.vented(); vented < want {
		objs = append(objs, widgets.NewNotice(widgets.Vermilion, r.Say("reason.vent-short", minutes(vented), minutes(want)), r.Say("pot.vent.lost")))
	}
	objs = append(objs, r.notice())
	needle := widgets.NewButton("", widgets.Plain, r.askNeedle)
	advice, write := r.advice()
	r.clock = func() {
		r.writeNeedle(needle)
		write()
	}
	objs = append(objs, needle)
	if n := len(r.cycle.Readings); n == 0 || r.cycle.Readings[n-1].NeedleMilli < f.RestartMilli { // it has not arrived: there is nothing to swear
		objs = append(objs, r.do("pot.look", func() { r.look(model.NoAnswer, 0) }))
	} else {
		line := r.Figure(f.RestartMilli)
		objs = append(objs, widgets.NewFlow(112,
			widgets.NewButton(r.Say("pot.stayed", line), widgets.Do, r.stayed),
			widgets.NewButton(r.Say("pot.dipped"), widgets.Do, func() { r.pad("pot.dip.ask", func(v float64) { r.look(model.Dipped, model.MilliDown(v)) }) }),
			widgets.NewButton(r.Say("pot.away"), widgets.Do, func() { r.look(model.LookedAway, 0) })))
	}
	r.below = advice
	return append(objs, r.leaveAndOther())
}

// vented is how long the air was let out, and how long it should have been.
func (r *Run) vented() (got, want time.Duration) {
	from, _ := r.cycle.Step(model.StepVentStart)
	to, _ := r.cycle.Step(model.StepVentEnd)
	return time.Duration(to.At-from.At) * time.Millisecond, time.Duration(r.cycle.Begun.Plan.VentMinutes) * time.Minute
}

// stayed swears that the needle was at or above the line since the last look. Below the line now, or
// at the last look, it cannot have stayed there: the look then counts without a claim.
func (r *Run) stayed() {
	line := float64(r.cycle.Begun.Plan.RestartMilli)
	last := float64(r.cycle.Readings[len(r.cycle.Readings)-1].NeedleMilli)
	if r.needle*1000 < line || last < line {
		r.look(model.NoAnswer, 0)
		return
	}
	r.look(model.Stayed, 0)
}

func (r *Run) writeNeedle(b *widgets.Button) {
	f := r.cycle.Begun.Plan
	text := r.Say("pot.needle") + "  —  " + r.Say("pot.needle.tap")
	if !math.IsNaN(r.needle) {
		text = r.Say("pot.needle") + "  " + r.Words.Number(r.needle, 3) + " " + f.Unit
		if len(r.cycle.Readings) > 0 {
			text += "  ·  " + r.Say("pot.since")
		}
	}
	if b.Text != text {
		b.SetText(text)
	}
}

// notice says what matters most now: a look that is due, an interruption, a needle below the line or
// above the limit.
func (r *Run) notice() fyne.CanvasObject {
	f := r.cycle.Begun.Plan
	n := widgets.NewNotice(widgets.Amber, r.Say("pot.rise"), r.Say("pot.rise.how", r.Figure(f.MarkMilli), strconv.FormatInt(f.Minutes, 10), r.Figure(f.RestartMilli)))
	if len(r.cycle.Readings) == 0 {
		return n
	}
	last := r.cycle.Readings[len(r.cycle.Readings)-1]
	if k := len(r.cycle.Breaks); k > 0 && r.cycle.Breaks[k-1].To > last.At {
		b := r.cycle.Breaks[k-1]
		n.SetText(r.Say("pot.due"), r.Say("pot.interrupted", strconv.FormatInt(b.From/60000, 10), strconv.FormatInt(b.To/60000, 10)))
		return n
	}
	dialClock := func() {
		d, _ := r.since()
		every := time.Duration(r.rules.Value(model.PolicyAskEvery)) * time.Minute
		title, detail := r.Say("pot.due.in", minutes(every-d+time.Minute-time.Second)), ""
		if d >= every {
			title = r.Say("pot.due")
		}
		switch {
		case last.NeedleMilli < f.RestartMilli:
			detail = r.Say("pot.low", r.Figure(f.RestartMilli), strconv.FormatInt(f.Minutes, 10))
		}
		n.SetColor(widgets.Amber)
		if f.LimitMilli > 0 && last.NeedleMilli > f.LimitMilli {
			n.SetColor(widgets.Vermilion)
			title, detail = r.Say("pot.above"), r.Say("pot.due")
		}
		n.SetText(title, detail)
	}
	dialClock()
	r.ticking = dialClock
	return n
}

func (r *Run) leaveAndOther() fyne.CanvasObject {
	leave := widgets.NewButton(r.Say("pot.leave"), widgets.Plain, r.leave)
	return widgets.NewFlow(150, leave, r.other())
}

func (r *Run) other() *widgets.Button {
	return widgets.NewButton(r.Say("pot.other"), widgets.Plain, r.events)
}

// leave is always one tap and costs only wood.
func (r *Run) leave() {
	widgets.Ask(r.Win, r.Say("pot.leave"), r.Say("pot.leave.ask"), r.Say("do.yes"), r.Say("do.no"), func(yes bool) {
		if yes && r.Tell(r.Desk.Step(r.id, model.StepLeft, nil)) && r.Tell(r.Desk.CloseCycle(r.id, model.CycleClosed{Outcome: model.Aborted, Reason: r.Say("pot.leave.done")})) {
			r.Go(screens.ToCycle, r.id)
		}
	})
}

func (r *Run) finish() {
	if r.Tell(r.Desk.CloseCycle(r.id, model.CycleClosed{Outcome: model.RanThrough})) {
		r.Go(screens.ToRelease, r.id)
	}
}

// minutes are whole minutes, rounded down; never negative.
func minutes(d time.Duration) string { return strconv.Itoa(int(max(d, 0) / time.Minute)) }
