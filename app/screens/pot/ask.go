package pot

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/model"
)

// pad asks for one figure on a pad with large keys.
func (r *Run) pad(title string, done func(float64)) {
	var shut func()
	pad := widgets.NewNumPad(r.Say("do.ok"), nil, func(text string) {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return
		}
		shut()
		done(v)
	})
	pad.SetPoint(r.Words.Say1("number.point"))
	cancel := widgets.NewButton(r.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = r.Modal(widgets.NewColumn(widgets.NewBig(r.Say(title), 20, widgets.Ink, true), pad, cancel))
	r.Win.Canvas().Focus(pad)
}

func (r *Run) askNeedle() {
	r.pad("pot.needle", func(v float64) {
		if v > float64(r.cycle.Begun.Plan.SpanMilli)/1000 {
			f := r.cycle.Begun.Plan
			r.Message(r.Say("refuse.needle-off-dial", r.Words.Number(v, 3), r.Figure(f.SpanMilli), f.Unit))
			return
		}
		r.tapped(v)
	})
}

// events are what can happen beside the steps.
func (r *Run) events() {
	var shut func()
	button := func(key string, look widgets.Look, tap func()) fyne.CanvasObject {
		return widgets.NewButton(r.Say(key), look, func() { shut(); tap() })
	}
	shut = r.Modal(widgets.NewColumn(
		button("pot.event.fire-low", widgets.Plain, func() { r.act(r.Desk.Step(r.id, model.StepFireLow, nil)) }),
		button("pot.event.fed", widgets.Plain, func() { r.act(r.Desk.Step(r.id, model.StepFed, nil)) }),
		button("pot.event.tamed", widgets.Plain, func() { r.act(r.Desk.Step(r.id, model.StepTamed, nil)) }),
		button("pot.event.blows", widgets.Plain, func() {
			r.act(r.Desk.Step(r.id, model.StepBlowing, nil))
			r.Message(r.Say("pot.event.blows.how"))
		}),
		button("pot.event.open", widgets.Plain, r.openedEarly),
		button("pot.event.incident", widgets.Plain, func() {
			if r.Tell(r.Desk.Hurt(r.id)) {
				r.Message(r.Say("caution.burn"))
			}
		}),
		button("pot.event.abort", widgets.Harm, r.abort),
		button("do.cancel", widgets.Quiet, func() {})))
}

// openedEarly records a lid opened before zero, with the needle that it was opened at.
func (r *Run) openedEarly() {
	r.pad("pot.needle", func(v float64) {
		milli := int64(math.Round(v * 1000))
		r.act(r.Desk.Step(r.id, model.StepOpened, &milli))
	})
}

func (r *Run) abort() {
	var shut func()
	objs := []fyne.CanvasObject{widgets.NewBig(r.Say("pot.abort.why"), 20, widgets.Ink, true)}
	for _, why := range []string{"fuel", "called", "leak", "other"} {
		reason := r.Say("pot.abort." + why)
		objs = append(objs, widgets.NewButton(reason, widgets.Plain, func() {
			shut()
			if r.Tell(r.Desk.CloseCycle(r.id, model.CycleClosed{Outcome: model.Aborted, Reason: reason})) {
				r.Go(screens.ToCycle, r.id)
			}
		}))
	}
	objs = append(objs, widgets.NewButton(r.Say("do.cancel"), widgets.Quiet, func() { shut() }))
	shut = r.Modal(widgets.NewColumn(objs...))
}
