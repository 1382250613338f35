package pot

import (
	"math"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/register"
)

// Run is the cycle on the fire.
type Run struct {
	*screens.Stage
	id     model.ID
	cycle  register.Cycle
	result assess.Result
	pot    work.Pot
	rules  model.Policies

	curve   *widgets.Curve
	dial    *widgets.Dial
	panel   *fyne.Container
	clock   func()  // rewrites what runs with time; nil: nothing does
	needle  float64 // NaN: not told yet
	beeped  time.Duration
	ticking func() // rewrites the notice; nil: nothing to rewrite
	full    fyne.CanvasObject
	below   fyne.CanvasObject // advice, under the buttons so that they never move; nil: none
}

// New builds the screen of the cycle under way; nil where there is none.
func New(s *screens.Stage) *Run {
	c, err := s.Desk.UnderWay()
	if !s.Tell(err) || c == nil {
		return nil
	}
	r := &Run{Stage: s, id: c.State.Ref.ID, needle: math.NaN(), panel: widgets.NewColumn()}
	if r.rules, err = s.Desk.Rules(); !s.Tell(err) {
		return nil
	}
	kept := s.Draft(r.scope())
	if v, err := strconv.ParseFloat(kept["needle"], 64); err == nil && r.fresh(kept["seen"]) {
		r.needle = v
	}
	r.cycle = *c
	r.curve = widgets.NewCurve(widgets.CurveSpec{Bead: -1})
	r.curve.SetTall(90)
	r.dial = widgets.NewDial(r.dialSpec(), r.tapped)
	r.dial.SetLeast(212)
	r.dial.Moved = r.tapped
	r.refresh()
	r.full = r.page()
	return r
}

// Object is what the window shows.
func (r *Run) Object() fyne.CanvasObject { return r.full }

// seen names this second of this run of the machine.
func (r *Run) seen() string {
	m := r.Desk.Clock.Now()
	return m.Boot.String() + " " + strconv.Itoa(int(m.Elapsed.Seconds()))
}

// needleLasts is how long a needle told is still "now".
const needleLasts = 5 * 60

// fresh says whether a needle seen then, in this run of the machine, is still that of now.
func (r *Run) fresh(seen string) bool {
	boot, at, _ := strings.Cut(seen, " ")
	then, err := strconv.Atoi(at)
	m := r.Desk.Clock.Now()
	age := int(m.Elapsed.Seconds()) - then
	return err == nil && boot == m.Boot.String() && age >= 0 && age <= needleLasts
}

func (r *Run) scope() string { return "pot:" + r.id.String() }

func (r *Run) page() fyne.CanvasObject {
	f := r.cycle.Begun.Plan
	packs := r.Words.Count("pot.packs", len(r.cycle.Begun.Packs))
	left := widgets.NewColumn(r.dial,
		widgets.NewBig(r.Say("plan.keep", r.Figure(f.MarkMilli)+" "+f.Unit), 20, widgets.Blue, true).SetAlign(fyne.TextAlignCenter),
		widgets.NewPara(r.Under(f)).SetAlign(fyne.TextAlignCenter), r.Caution())
	body := widgets.NewSplit(left, r.panel, 0.38, 600)
	return screens.Page(r.Say("pot.title", strconv.FormatInt(r.cycle.Begun.Number, 10), r.pot.Looks.Name, packs),
		r.Say("pot.height", strconv.FormatInt(f.HeightM, 10)), r.curve, body)
}

func (r *Run) dialSpec() widgets.DialSpec { return screens.DialFor(r.cycle.Begun.Plan, r.needle) }

// tapped takes the needle off the dial; it is kept at once.
func (r *Run) tapped(v float64) {
	r.needle = v
	r.Keep(r.scope(), "seen")(r.seen())
	r.Keep(r.scope(), "needle")(strconv.FormatFloat(v, 'f', -1, 64))
	r.dial.SetSpec(r.dialSpec())
	if r.clock != nil {
		r.clock() // the button shows the figure
	}
}

// SetNeedle puts the needle where a person sees it, as a tap on the dial does.
func (r *Run) SetNeedle(v float64) { r.tapped(v) }

// act runs one act and shows the cycle anew.
func (r *Run) act(err error) {
	if !r.Tell(err) {
		return
	}
	r.Desk.Stir()
	r.Note("act")
	r.refresh()
}

// look writes one look down.
func (r *Run) look(a model.Answer, lowest int64) {
	if math.IsNaN(r.needle) || !r.fresh(r.Draft(r.scope())["seen"]) {
		r.needle = math.NaN()
		r.refresh()
		r.Message(r.Say("pot.needle") + ": " + r.Say("pot.needle.tap"))
		return
	}
	milli := model.MilliDown(r.needle)
	err := r.Desk.Look(r.id, milli, a, lowest)
	if err == nil {
		r.needle = math.NaN()
		if e := r.Desk.Store.DropDraft(r.scope()); e != nil {
			r.Note(e.Error())
		}
	}
	r.act(err)
}

func (r *Run) refresh() {
	c, err := r.Desk.Cycle(r.id)
	if !r.Tell(err) {
		return
	}
	r.cycle = c
	if place, err := r.Desk.Place(); r.Tell(err) {
		r.pot, _ = place.Pot(c.Begun.Sterilizer)
	}
	if r.result, err = r.Desk.Judge(c); !r.Tell(err) {
		return
	}
	r.dial.SetSpec(r.dialSpec())
	r.curve.SetSpec(r.curveSpec())
	r.clock, r.ticking = nil, nil
	r.beeped = 0
	r.below = nil
	if r.panel.Objects = r.phase(); r.below != nil {
		r.panel.Objects = append(r.panel.Objects, r.below)
	}
	if r.forbidden() || (r.pot.Out && len(c.Begun.Packs) > 0) { // bad news came since it was begun
		what := "pot.out.lit"
		if r.forbidden() {
			what = "pot.out.unlit"
		}
		r.panel.Objects = append([]fyne.CanvasObject{widgets.NewNotice(widgets.Vermilion, r.Say("today.pot-out", r.pot.Looks.Name), r.Say(what))}, r.panel.Objects...)
	}
	r.panel.Refresh()
	r.Tick()
}

// Tick lets time go on: minutes are rewritten, a due look is called for, loud.
func (r *Run) Tick() {
	if r.clock != nil {
		r.clock()
	}
	if r.ticking != nil {
		r.ticking()
	}
	if due, over := r.due(); due && over >= 0 && (r.beeped == 0 || over-r.beeped >= time.Minute) {
		r.beeped = max(over, time.Second)
		r.Beep()
	}
}

// Due says whether the needle is to be looked at now.
func (r *Run) Due() bool {
	now, over := r.due()
	return now && over >= 0
}

// since is the time since the last look at the needle.
func (r *Run) since() (d time.Duration, any bool) {
	if len(r.cycle.Readings) == 0 {
		return 0, false
	}
	last := r.cycle.Readings[len(r.cycle.Readings)-1].At
	return r.Desk.Elapsed(r.cycle) - time.Duration(last)*time.Millisecond, true
}

// due says whether a look is due now, and since when; before the hold ends only.
func (r *Run) due() (now bool, over time.Duration) {
	if _, drawn := r.cycle.Step(model.StepFireDrawn); drawn {
		return false, 0
	}
	d, any := r.since()
	every := time.Duration(r.rules.Value(model.PolicyAskEvery)) * time.Minute
	return any && d >= every, d - every
}

// curveSpec lays the steps on the pressure curve: the pale path is the cycle that should be, the
// dark line the one that is.
func (r *Run) curveSpec() widgets.CurveSpec {
	f := r.cycle.Begun.Plan
	mark := float64(f.MarkMilli) / 1000
	at := func(code model.StepCode, guess float64) float64 {
		if s, ok := r.cycle.Step(code); ok {
			return float64(s.At) / 60000
		}
		return guess
	}
	now := r.Desk.Elapsed(r.cycle).Minutes()
	lit := at(model.StepLit, 5)
	vent := at(model.StepVentStart, lit+18)
	shut := at(model.StepVentEnd, vent+float64(f.VentMinutes))
	up := shut + 12
	if h := r.holdStart(); h >= 0 {
		up = h
	}
	out := at(model.StepSteamOut, max(up+float64(f.Minutes), now))
	zero := at(model.StepZero, out+7)
	end := max(zero+12, now)
	spec := widgets.CurveSpec{Level: float64(f.RestartMilli) / 1000, Bead: -1,
		Ideal: []widgets.Point{{X: 0}, {X: shut}, {X: up, Y: mark}, {X: out, Y: mark}, {X: zero}, {X: end}}}
	phase := r.phaseCode()
	for _, m := range []struct {
		code string
		at   float64
		now  []model.StepCode
	}{{"loaded", lit / 2, []model.StepCode{model.StepLidShut}}, {"lit", (lit + vent) / 2, []model.StepCode{model.StepLit, model.StepVentStart}},
		{"vent", (vent + shut) / 2, []model.StepCode{model.StepVentEnd}}, {"rise", (shut + up) / 2, nil}, {"hold", (up + out) / 2, []model.StepCode{stepHold}},
		{"steam-out", (out + zero) / 2, []model.StepCode{model.StepSteamOut, model.StepZero}}, {"dried", (zero + end) / 2, []model.StepCode{model.StepOpened, model.StepDried, model.StepCooled}}} {
		isNow := false
		for _, c := range m.now {
			isNow = isNow || c == phase
		}
		spec.Steps = append(spec.Steps, widgets.StepMark{At: m.at, Text: r.Say("step." + m.code), Now: isNow})
	}
	return r.drawn(spec, shut, now)
}

func (r *Run) drawn(spec widgets.CurveSpec, shut, now float64) widgets.CurveSpec {
	spec.Real = append(spec.Real, widgets.Point{X: 0})
	if _, ok := r.cycle.Step(model.StepVentEnd); ok {
		spec.Real = append(spec.Real, widgets.Point{X: shut})
	}
	for i, x := range r.cycle.Readings {
		p := widgets.Point{X: float64(x.At) / 60000, Y: float64(x.NeedleMilli) / 1000}
		if i > 0 && x.At-r.cycle.Readings[i-1].At > r.cycle.Begun.Plan.GapMinutes*60000 {
			spec.Gaps = append(spec.Gaps, len(spec.Real)-1)
		}
		spec.Real = append(spec.Real, p)
	}
	if s, ok := r.cycle.Step(model.StepZero); ok {
		spec.Real = append(spec.Real, widgets.Point{X: float64(s.At) / 60000})
	} else if len(r.cycle.Readings) == 0 {
		spec.Real = append(spec.Real, widgets.Point{X: max(now, spec.Real[len(spec.Real)-1].X)})
	}
	spec.Bead = len(spec.Real) - 1
	return spec
}

// holdStart is the minute at which the present hold began; -1: none.
func (r *Run) holdStart() float64 {
	line := r.cycle.Begun.Plan.RestartMilli
	start := -1.0
	for _, x := range r.cycle.Readings {
		switch {
		case x.NeedleMilli < line || (x.Answer == model.Dipped && x.LowestMilli < line):
			start = -1
			if x.NeedleMilli >= line {
				start = float64(x.At) / 60000
			}
		case start < 0:
			start = float64(x.At) / 60000
		}
	}
	return start
}
