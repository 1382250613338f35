package learn

import (
	"math"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/screens/pot"
	"mvuke/app/widgets"
	"mvuke/model"
	steampot "mvuke/steam/pot"
)

// View is a practice on the screen: the pot that burns on the left, the screens of the real cycle on the right.
type View struct {
	s     *screens.Stage // the clinic's own
	st    *screens.Stage // the practice's
	x     *practice.Session
	run   *pot.Run
	right *fyne.Container
	full  fyne.CanvasObject
	ended bool

	hearth      *widgets.Hearth
	dial        *widgets.Dial
	head, state *widgets.Para
	valve       *widgets.Levels
	doubt       *widgets.Button // says that the gauge is not to be believed
	card        *widgets.Button // puts height and pot right, before the cycle is begun
	speed       *widgets.Levels
	begun       bool
	lit         func() // what the two buttons at the fire say
	burning     bool
	ticks       int
	asked       bool
	finish      func(practice.Report)
}

// New shows a session; finish is called once with its report, when it is over or given up.
func New(s *screens.Stage, x *practice.Session, finish func(practice.Report)) *View {
	v := &View{s: s, x: x, finish: finish, right: &fyne.Container{Layout: fullLayout{}}}
	v.st = &screens.Stage{Desk: x.Desk, Words: s.Words, Win: s.Win, Beep: s.Beep, Open: s.Open, Speak: func(string) {}, Scale: func(float32) {}, Note: s.Note}
	v.st.Go, v.st.Pause = v.show, v.pause
	v.st.Again = func() { v.show(screens.ToPot, model.ID{}) }
	v.prefill()
	v.full = widgets.NewBand(widgets.NewUnder(v.band(), widgets.NewInset(6, 0, widgets.NewBeside(v.hearthSide(), v.right, 310, 800))))
	v.show(screens.ToPot, model.ID{})
	v.Tick()
	return v
}

// Object is what the window shows.
func (v *View) Object() fyne.CanvasObject { return v.full }

// pause lets the pot stand while a box covers it.
func (v *View) pause(on bool) {
	if on {
		v.x.Clock.SetRate(0)
		return
	}
	v.x.Clock.SetRate(rates[v.speed.At])
}

// prefill types what is not practised: the packs. Water and needle at rest are to be looked at.
func (v *View) prefill() {
	for field, text := range map[string]string{"packs": "P-1 P-2 P-3 P-4", "item": "item.wrapped", "mark": "load.tape", "test": "do.yes"} {
		v.st.Keep("load", field)(text)
	}
}

// show puts one of the practice's own screens on the right.
func (v *View) show(place string, id model.ID) {
	v.run = nil
	var o fyne.CanvasObject
	switch place {
	case screens.ToCorrect:
		o = screens.Correct(v.st)
	case screens.ToCycle, screens.ToRelease:
		v.End()
		return
	default:
		if v.run = pot.New(v.st); v.run != nil {
			o = v.run.Object()
		} else {
			o = pot.Load(v.st)
		}
	}
	v.right.Objects = []fyne.CanvasObject{o}
	v.right.Refresh()
	v.s.Note("practice " + place)
}

// Tick lets the pot burn up to now and draws it; ten times a second.
func (v *View) Tick() {
	if v.ended {
		return
	}
	v.x.Tick()
	v.x.Desk.Stir()
	v.ticks++
	v.draw()
	if v.run != nil && v.ticks%3 == 0 {
		v.run.Tick()
	}
	if v.x.Called && !v.asked {
		v.asked = true
		v.called()
	}
	if v.x.Over() {
		v.End()
	}
}

// called is somebody calling: go at once, or see to the pot first.
func (v *View) called() {
	var shut func()
	go_ := widgets.NewButton(v.s.Say("learn.called.go"), widgets.Harm, func() { shut(); v.x.Go(); v.Tick() })
	first := widgets.NewButton(v.s.Say("learn.called.first"), widgets.Do, func() { shut() })
	shut = v.s.Modal(widgets.NewColumn(widgets.NewBig(v.s.Say("learn.called"), 22, widgets.Ink, true), widgets.NewPara(v.s.Say("learn.called.how")), first, go_))
}

// End gives the report, once.
func (v *View) End() {
	if v.ended {
		return
	}
	v.ended = true
	v.x.Clock.SetRate(0)
	r, err := v.x.Grade()
	if !v.s.Tell(err) {
		return
	}
	v.finish(r)
}

// draw shows what a person would see at the pot.
func (v *View) draw() {
	sc := v.x.Scene
	st := sc.Pot.State()
	jet := sc.Jet()
	full := sc.Fire.Full()
	strength := full * sc.Fire.Draught
	spec := widgets.HearthSpec{Flame: math.Sqrt(strength / 3500), Embers: math.Min(full/2500, 1), Lid: v.x.LidOn, Water: st.Water / 3.6, Draught: sc.Fire.Draught, Tick: v.ticks / 2}
	if sc.Fire.Fresh > 0.02 {
		spec.Flame = max(spec.Flame, 0.18)
	}
	switch jet {
	case steampot.JetSplutter:
		spec.Jet, spec.Broken = 0.35, true
	case steampot.JetSteady:
		spec.Jet = math.Min(0.35+st.Out/0.0015, 1)
	}
	if st.Relief > 0 {
		spec.Relief = math.Min(0.4+st.Relief/0.002, 1)
	}
	v.hearth.SetSpec(spec)
	v.dial.SetSpec(v.dialSpec(sc.Needle()))
	minutes := int(v.x.Scene.Minutes)
	v.head.SetText(v.title(minutes))
	if v.x.Lit() != v.burning {
		v.burning = !v.burning
		v.lit()
	}
	v.valve.Follow(sc.Opening, practice.Valves)
	if _, begun := v.x.Under(); begun {
		if !v.begun { // now the pot is to burn
			v.begun = true
			v.speed.Set(burnRate)
			v.x.Clock.SetRate(rates[burnRate])
		}
		v.card.Hide()
		v.doubt.Hide()
	}
	v.state.SetText(v.s.Say("learn.state", v.s.Words.Number(st.Water, 1), v.s.Say("learn.jet."+string(jet))))
}

func (v *View) dialSpec(needle float64) widgets.DialSpec {
	nan := math.NaN()
	return widgets.DialSpec{Span: v.x.Scene.Dial.Span, Line: v.x.Scene.Dial.Line, Unit: string(v.x.Scene.Dial.Unit), Mark: nan, Restart: nan, Limit: nan,
		Needle: max(needle, -v.x.Scene.Dial.Line)}
}

// Beat is how often Tick is to be called.
const Beat = 100 * time.Millisecond

// fullLayout lets each object fill the whole.
type fullLayout struct{}

func (fullLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objs {
		o.Move(fyne.NewPos(0, 0))
		o.Resize(size)
	}
}

func (fullLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 200) }

// Session is the practice that is shown.
func (v *View) Session() *practice.Session { return v.x }

// Show builds the screen of the cycle anew, after acts that were not taken on it.
func (v *View) Show() { v.show(screens.ToPot, model.ID{}); v.Tick() }
