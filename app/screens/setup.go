package screens

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/steam"
)

const setupScope = "setup"

// setup is the first run: six questions, one a step. Every keystroke is kept.
type setup struct {
	*Stage
	step int
	a    work.Answers
	kept map[string]string
	body *fyne.Container
	next func() error // takes the step's answers

	scope       string
	first, last int          // steps asked
	done        func() error // takes all answers
	was         model.Site   // what stands, where it is corrected
}

// Setup asks the six questions.
func Setup(s *Stage) fyne.CanvasObject {
	x := &setup{Stage: s, scope: setupScope, kept: s.Draft(setupScope), body: widgets.NewColumn(), last: 5}
	x.done = func() error { return s.Desk.SetUp(x.a) }
	x.a.Language = s.Words.Language
	x.step, _ = strconv.Atoi(x.kept["step"])
	x.load()
	x.show()
	return Page(s.Say("setup.title"), "", x.body)
}

// load takes the answers given so far out of the draft.
func (x *setup) load() {
	for i := range 5 {
		if i >= x.step {
			break
		}
		x.build(i)
		if x.next() != nil { // a draft of an older program: ask again
			x.step = i
			break
		}
	}
}

// keeps keeps what is typed into a field of that name.
func (x *setup) keeps(name string) func(string) {
	return func(v string) { x.kept[name] = v; x.Keep(x.scope, name)(v) }
}

func (x *setup) field(name, label, hint string) *widgets.Field {
	f := widgets.NewField(x.Say(label), hint, nil)
	f.SetText(x.kept[name])
	f.WhenChanged(x.keeps(name))
	return f
}

func (x *setup) pick(name string, options []string, selected int) *widgets.Choice {
	if v, err := strconv.Atoi(x.kept[name]); err == nil {
		selected = v
	}
	x.kept[name] = strconv.Itoa(selected)
	return widgets.NewChoice(options, selected, func(i int) { x.kept[name] = strconv.Itoa(i); x.Keep(x.scope, name)(strconv.Itoa(i)) })
}

func (x *setup) show() {
	content := x.build(x.step)
	back := widgets.NewButton(x.Say("do.back"), widgets.Plain, func() { x.move(-1) })
	if x.step == x.first {
		back.Disable()
	}
	next := widgets.NewButton(x.Say("do.next"), widgets.Do, func() {
		if err := x.next(); err != nil {
			if !errors.Is(err, errShown) {
				x.Tell(err)
			}
			return
		}
		if x.step < x.last {
			x.move(1)
			return
		}
		x.finish()
	})
	x.body.Objects = append([]fyne.CanvasObject{widgets.NewSoft(x.Say("setup.step", strconv.Itoa(x.step+1)))}, content...)
	x.body.Objects = append(x.body.Objects, widgets.NewFlow(200, back, next))
	x.body.Refresh()
	x.Note("setup " + strconv.Itoa(x.step))
}

func (x *setup) move(by int) {
	x.step += by
	if x.a.Office && x.step > 1 && x.step < x.last { // an office has no height, no pot and no gauge
		x.step = 1
		if by > 0 {
			x.step = x.last
		}
	}
	x.Keep(x.scope, "step")(strconv.Itoa(x.step))
	x.show()
	focusFirst(x.body)
}

// focusFirst puts the cursor into the first field, for those who work by keyboard alone.
func focusFirst(o fyne.CanvasObject) bool {
	switch v := o.(type) {
	case *widgets.Field:
		v.Focus()
		return true
	case *fyne.Container:
		for _, c := range v.Objects {
			if focusFirst(c) {
				return true
			}
		}
	}
	return false
}

func (x *setup) finish() {
	if !x.Tell(x.done()) {
		return
	}
	if err := x.Desk.Store.DropDraft(x.scope); err != nil {
		x.Note(err.Error())
	}
	x.Go(ToSetup, model.ID{})
	if x.hasMark() {
		x.Message(x.Say("setup.done"))
	}
}

// hasMark says whether there is a mark to show at all.
func (x *setup) hasMark() bool {
	p, err := x.Desk.Place()
	if err != nil || len(p.Pots) == 0 {
		return false
	}
	plan, err := x.Desk.Plan(p.Pots[0], p.Site, model.Wrapped, nil)
	return err == nil && plan.Plan.Refused == nil
}

// Correct asks height, pot and gauge again, with what stands now.
func Correct(s *Stage) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil || len(place.Pots) == 0 {
		return Page(s.Say("setup.title"), "", widgets.NewPara(s.Fault(err)))
	}
	pot := place.Pots[0]
	u := steam.Unit(pot.Gauge.Unit)
	plate := func(pa int64) string {
		if pa == 0 {
			return ""
		}
		return s.Words.Number(u.Of(steam.Over(pa)), 3)
	}
	x := &setup{Stage: s, scope: "correct", body: widgets.NewColumn(), first: 2, step: 2, last: 4}
	x.kept = map[string]string{"height": count(place.Site.HeightM) + " m", "pot": pot.Looks.Name, "limit": plate(pot.Looks.LimitPa), "valve": plate(pot.Looks.ValvePa),
		"water": s.Figure(pot.Looks.LeastWaterML), "unit": pot.Gauge.Unit, "span": s.Figure(pot.Gauge.SpanMilli), "line": s.Figure(pot.Gauge.LineMilli), "serial": pot.Gauge.Serial}
	x.was = place.Site
	x.kept["how"] = strconv.Itoa(slices.Index(waysAsked, place.Site.How)) // any other way stays as it is, until one of these is tapped
	for i, c := range classes {
		if int64(c*1000) == pot.Gauge.ClassMilli {
			x.kept["class"] = strconv.Itoa(i)
		}
	}
	x.done = func() error { return s.Desk.Correct(pot, place, x.a) }
	x.show()
	return Page(s.Say("setup.correct"), "", x.body)
}

// waysAsked are the ways of knowing the altitude that are asked for at set-up; the others are told where the altitude is.
var waysAsked = []model.HeightHow{model.ByMap, model.BySurvey}

// errShown says that the step shows what is wrong itself.
var errShown = errors.New("shown")

func (x *setup) build(step int) []fyne.CanvasObject {
	return []func() []fyne.CanvasObject{x.language, x.place, x.height, x.pot, x.gauge, x.you}[min(max(step, 0), 5)]()
}

func head(s *Stage, key string) fyne.CanvasObject {
	return widgets.NewBig(s.Say(key), 24, widgets.Ink, true)
}

func (x *setup) language() []fyne.CanvasObject {
	names, at := []string{}, 0
	for i, l := range assets.Languages() {
		names = append(names, assets.For(l).Say("language.name"))
		if l == x.Words.Language {
			at = i
		}
	}
	delete(x.kept, "language")
	c := widgets.NewChoice(names, at, func(i int) { x.Speak(assets.Languages()[i]) })
	x.next = func() error { x.a.Language = x.Words.Language; return nil }
	return []fyne.CanvasObject{head(x.Stage, "setup.language"), c}
}

func (x *setup) place() []fyne.CanvasObject {
	name := x.field("name", "setup.place", x.Say("setup.place.hint"))
	what := x.pick("what", []string{x.Say("setup.clinic"), x.Say("setup.office")}, 0)
	x.next = func() error {
		x.a.Office = what.Selected == 1
		x.a.Site.Name = strings.TrimSpace(name.Text())
		if x.a.Site.Name == "" {
			name.SetError(x.Say("refuse.site-name"))
			return errShown
		}
		return nil
	}
	return []fyne.CanvasObject{head(x.Stage, "setup.place"), name, widgets.NewPara(x.Say("setup.what")), what}
}

func (x *setup) height() []fyne.CanvasObject {
	said := widgets.NewPara("")
	confirm := widgets.NewStrong("")
	height := x.field("height", "setup.height", x.Say("setup.height.hint"))
	show := func(v string) {
		h, err := steam.Altitude(v)
		if err != nil {
			said.SetText("")
			confirm.SetText("")
			return
		}
		c, err := steam.BoilingPoint(h)
		if err != nil {
			return
		}
		said.SetText(x.Say("setup.height.both", x.Words.Number(float64(h), 0), x.Words.Number(float64(h)/steam.FeetToMetres, 0), x.Words.Number(float64(c), 1)))
		confirm.SetText(x.Say("setup.height.confirm"))
	}
	keep := x.keeps("height")
	height.WhenChanged(func(v string) { keep(v); show(v) })
	show(height.Text())
	how := x.pick("how", []string{x.Say("setup.how.map"), x.Say("setup.how.survey")}, 0)
	x.next = func() error {
		h, err := steam.Altitude(height.Text())
		if err != nil {
			height.SetError(x.heightFault(height.Text()))
			return errShown
		}
		x.a.Site.HeightM = int64(h + 0.5)
		if x.a.Site.HeightM == x.was.HeightM && x.was.How != "" && (how.Selected < 0 || waysAsked[how.Selected] == x.was.How) { // nothing of it was changed
			x.a.Site = x.was
			return nil
		}
		x.a.Site.How = waysAsked[max(how.Selected, 0)]
		x.a.Site.WithinM = map[model.HeightHow]int64{model.ByMap: int64(steam.MapWithin), model.BySurvey: int64(steam.SurveyWithin)}[x.a.Site.How]
		x.a.Site.WeatherPermille = steam.TropicsWeather * 1000
		return nil
	}
	return []fyne.CanvasObject{head(x.Stage, "setup.height"), height, said, confirm, widgets.NewPara(x.Say("setup.height.how")), how}
}

// heightFault shows both readings of a bare number, and of a height too great to be metres.
func (s *Stage) heightFault(text string) string {
	bare := strings.TrimRight(strings.ToLower(strings.TrimSpace(text)), " metrsf")
	v, err := steam.Number(bare)
	switch {
	case err != nil || v < -430 || v > 20000:
		return s.Say("refuse.altitude")
	case strings.ContainsAny(bare, ".,"):
		return s.Say("setup.height.comma", text)
	}
	n := func(f float64) string { return s.Words.Number(f, 0) }
	return s.Say("setup.height.two", n(v), n(v/steam.FeetToMetres), n(v*steam.FeetToMetres))
}
