package screens

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// Site shows the pot with its mark, makes sheets and copies, and sets language and text size.
func Site(s *Stage) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if office, e := s.Desk.Office(); err == nil && e == nil && office {
		return s.office(place)
	}
	if err != nil || len(place.Pots) == 0 {
		return Page(s.Say("nav.setup"), "", widgets.NewPara(s.Fault(err)))
	}
	pot := place.Pots[0]
	p, err := s.Desk.Plan(pot, place.Site, model.Wrapped, nil)
	if err != nil {
		return Page(s.Say("nav.setup"), "", widgets.NewPara(s.Fault(err)))
	}
	about := widgets.NewColumn(
		widgets.NewPara(s.Say("setup.site", place.Site.Name, count(place.Site.HeightM), s.Say("setup.how."+string(place.Site.How)))),
		widgets.NewPara(s.Say("setup.potline", pot.Looks.Name, s.Figure(p.Frozen.LimitMilli), p.Frozen.Unit)),
		widgets.NewPara(s.gaugeLine(pot)))
	var left fyne.CanvasObject
	if p.Plan.Refused != nil {
		left = s.Refused(p)
	} else {
		left = s.MarkCard(p)
	}
	right := widgets.NewColumn(
		widgets.NewButton(s.Say("setup.card"), widgets.Do, func() { s.WithPerson(func() { MakeCard(s) }) }),
		widgets.NewButton(s.Say("setup.slip"), widgets.Plain, func() { s.potPaper("slip", paper.Slip) }),
		widgets.NewButton(s.Say("setup.sheet"), widgets.Plain, func() { s.potPaper("log-sheet", paper.LogSheet) }),
		widgets.NewButton(s.Say("taught.title"), widgets.Plain, func() { s.Go(ToTaught, pot.ID) }),
		widgets.NewButton(s.Say("setup.policy"), widgets.Plain, func() { s.Go(ToPolicies, model.ID{}) }),
		widgets.NewButton(s.Say("setup.correct"), widgets.Plain, func() { s.WithPerson(func() { s.Go(ToCorrect, model.ID{}) }) }),
		widgets.NewButton(s.Say("clash.title"), widgets.Plain, func() { s.Go(ToClashes, model.ID{}) }),
		widgets.NewButton(s.Say("height.title"), widgets.Plain, func() { s.Go(ToHeight, model.ID{}) }),
		widgets.NewButton(s.Say("stick.title"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) }),
		widgets.NewButton(s.Say("lists.title"), widgets.Plain, func() { s.Go(ToLists, model.ID{}) }),
		widgets.NewButton(s.Say("words.title"), widgets.Plain, func() { s.WithPerson(s.keyWords) }),
		widgets.NewButton(s.Say("setup.backup"), widgets.Plain, func() {
			if path, _, err := s.Desk.Backup(); s.Tell(err) {
				s.Message(s.Say("file.made", path))
			}
		}))
	return Page(s.Say("today.title", place.Site.Name, s.Say("nav.setup")), s.Say("pot.height", count(place.Site.HeightM)),
		widgets.NewSplit(left, right, 0.55, 700), about, s.details(p), s.languages(), s.sizes())
}

// office is the setup page of a district's office, which has no pot.
func (s *Stage) office(place work.Place) fyne.CanvasObject {
	go2 := func(key, to string, look widgets.Look) fyne.CanvasObject {
		return widgets.NewButton(s.Say(key), look, func() { s.Go(to, model.ID{}) })
	}
	return Page(s.Say("today.title", place.Site.Name, s.Say("nav.setup")), "", widgets.NewPara(s.Say("office.what")),
		go2("stick.title", ToStick, widgets.Do), go2("devices.title", ToDevices, widgets.Plain), go2("setup.policy", ToPolicies, widgets.Plain), go2("lists.title", ToLists, widgets.Plain),
		widgets.NewButton(s.Say("words.title"), widgets.Plain, func() { s.WithPerson(s.keyWords) }),
		widgets.NewButton(s.Say("setup.backup"), widgets.Plain, func() {
			if path, _, err := s.Desk.Backup(); s.Tell(err) {
				s.Message(s.Say("file.made", path))
			}
		}), s.languages(), s.sizes())
}

func (s *Stage) gaugeLine(pot work.Pot) string {
	class := s.Say("setup.gauge.class.none")
	if pot.Gauge.ClassMilli >= 0 {
		class = s.Figure(pot.Gauge.ClassMilli)
	}
	return s.Say("setup.gaugeline", pot.Gauge.Serial, s.Figure(pot.Gauge.SpanMilli), pot.Gauge.Unit, s.Figure(pot.Gauge.LineMilli), class)
}

// DialFor is the pot's own dial with the plan's figures; needle NaN: none.
func DialFor(f model.FrozenPlan, needle float64) widgets.DialSpec {
	spec := widgets.DialSpec{Span: float64(f.SpanMilli) / 1000, Line: float64(f.LineMilli) / 1000, Unit: f.Unit,
		Mark: float64(f.MarkMilli) / 1000, Restart: float64(f.RestartMilli) / 1000, Limit: math.NaN(), Needle: needle}
	if f.LimitMilli > 0 {
		spec.Limit = float64(f.LimitMilli) / 1000
	}
	return spec
}

// Under is the line below the dial: restart line and limit.
func (s *Stage) Under(f model.FrozenPlan) string {
	if f.LimitMilli == 0 {
		return s.Say("plan.under.nolimit", s.Figure(f.RestartMilli))
	}
	return s.Say("plan.under", s.Figure(f.RestartMilli), s.Figure(f.LimitMilli))
}

// MarkCard shows the dial with the mark, what is to be done with it, and the cautions that go with it.
func (s *Stage) MarkCard(p work.Planned, act ...fyne.CanvasObject) fyne.CanvasObject {
	dial := widgets.NewDial(DialFor(p.Frozen, float64(p.Frozen.MarkMilli)/1000), nil)
	dial.SetLeast(215)
	objs := []fyne.CanvasObject{dial,
		widgets.NewBig(s.Say("plan.keep", s.Figure(p.Frozen.MarkMilli)+" "+p.Frozen.Unit)+" · "+s.Say("plan.minutes", count(p.Frozen.Minutes)), 22, widgets.Blue, true).SetAlign(fyne.TextAlignCenter),
		widgets.NewPara(s.Under(p.Frozen)).SetAlign(fyne.TextAlignCenter)}
	objs = append(objs, act...)
	return widgets.NewColumn(append(objs, s.Caution(), widgets.NewSoft(s.Say("caution.valve")+" "+s.Say("caution.leak")))...)
}

// Refused says why there is no mark, and what can be done tonight.
func (s *Stage) Refused(p work.Planned) fyne.CanvasObject {
	r, n := p.Plan.Refused, s.Words.Number
	body := []fyne.CanvasObject{widgets.NewNotice(widgets.Vermilion, s.Say("refused."+r.Code, n(r.Need, 2), n(r.Limit, 2), string(p.Gauge.Unit), n(float64(r.At), 1)), s.Say("tonight.title"))}
	for _, t := range r.Tonight {
		body = append(body, widgets.NewPara("– "+s.Say("tonight."+t)))
	}
	body = append(body, widgets.NewButton(s.Say("boil.title"), widgets.Plain, func() { s.WithPerson(s.boiled) }))
	return widgets.NewColumn(append(body, s.Caution())...)
}

// boiled writes down what was boiled for immediate use.
func (s *Stage) boiled() {
	var shut func()
	what, minutes := widgets.NewField(s.Say("boil.what"), "", nil), widgets.NewField(s.Say("boil.minutes"), "20", nil)
	widgets.Chain(what, minutes)
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		m, ok := s.Number(minutes)
		if !ok {
			return
		}
		if err := s.Desk.Boiled(what.Text(), m/1000); err != nil {
			what.SetError(s.Fault(err))
			return
		}
		shut()
		s.Message(s.Say("boil.saved"))
	})
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(what, minutes, widgets.NewFlow(160, cancel, save)))
	what.Focus()
}

// details shows how the mark comes about: bare need, each allowance, the rounded figures.
func (s *Stage) details(p work.Planned) fyne.CanvasObject {
	u := p.Gauge.Unit
	body := []fyne.CanvasObject{widgets.NewStrong(s.Say("setup.details")),
		widgets.NewPara(s.Say("plan.need", s.Words.Number(u.Of(p.Plan.Need), 1), string(u), "121", count(p.Frozen.HeightM)))}
	if more := p.Plan.NeedShown - u.Of(p.Plan.Need); math.Abs(more) > u.UsualLine()/20 { // what was found of it
		body = append(body, widgets.NewPara(s.Say("plan.shown", s.Words.Number(p.Plan.NeedShown, 1), string(u))))
	}
	for _, a := range p.Plan.Allowances {
		body = append(body, widgets.NewPara("+ "+s.Say("plan.allow."+a.Name, s.Words.Number(a.Over.KPa(), 1))))
	}
	if p.Plan.ErrorLeftOut {
		body = append(body, widgets.NewPara(s.Say("plan.left-out")))
	}
	if p.Plan.Refused == nil {
		body = append(body, widgets.NewPara(s.Say("plan.at", s.Words.Number(float64(p.Plan.AtMark.Low), 1), s.Words.Number(float64(p.Plan.AtMark.High), 1))),
			widgets.NewSoft(s.Say("caution.zero", s.Words.Number(float64(p.Gauge.Error())/1000, 0), s.Words.Number(float64(p.Gauge.Error())/10, 0))),
			widgets.NewSoft(s.Say("caution.chamber")))
	}
	return widgets.NewCard(widgets.NewColumn(body...))
}

func (s *Stage) languages() fyne.CanvasObject {
	names, at := []string{}, 0
	for i, l := range assets.Languages() {
		names = append(names, assets.For(l).Say("language.name"))
		if l == s.Words.Language {
			at = i
		}
	}
	return widgets.NewColumn(widgets.NewPara(s.Say("setup.lang")), widgets.NewChoice(names, at, func(i int) { s.Speak(assets.Languages()[i]) }))
}

var scales = []float32{1, 1.25, 1.5}

func (s *Stage) sizes() fyne.CanvasObject {
	return widgets.NewColumn(widgets.NewPara(s.Say("setup.text")), widgets.NewChoice([]string{"100 %", "125 %", "150 %"}, -1, func(i int) { s.Scale(scales[i]) }))
}

// MakeCard makes and records a wall card and opens it.
func MakeCard(s *Stage) {
	place, err := s.Desk.Place()
	if !s.Tell(err) || len(place.Pots) == 0 {
		return
	}
	pot := place.Pots[0]
	made, p, err := s.Desk.MakeCard(pot, place.Site, model.Wrapped)
	if !s.Tell(err) {
		return
	}
	c := s.card(place.Site, pot, p)
	c.Number, c.Void = made.Number, time.UnixMilli(made.VoidAfter)
	s.Write("wall-card-"+count(made.Number)+".pdf", func(w io.Writer) error { return paper.WallCard(w, s.Words, paper.A4, c) })
}

func (s *Stage) card(site model.Site, pot work.Pot, p work.Planned) paper.Card {
	return paper.Card{Site: site, Pot: pot.Looks, Gauge: pot.Gauge, Item: p.Item, Plan: p.Frozen, Allow: p.Plan.Allowances,
		Made: s.Desk.Clock.Now().Wall, AskMinutes: p.Rules.Value(model.PolicyAskEvery)}
}

func (s *Stage) potPaper(name string, draw func(io.Writer, *assets.Words, paper.Size, paper.Card) error) {
	place, err := s.Desk.Place()
	if !s.Tell(err) || len(place.Pots) == 0 {
		return
	}
	p, err := s.Desk.Plan(place.Pots[0], place.Site, model.Wrapped, nil)
	if !s.Tell(err) {
		return
	}
	if p.Plan.Refused != nil {
		s.Message(s.Say("refuse.no-mark"))
		return
	}
	c := s.card(place.Site, place.Pots[0], p)
	s.Write(name+".pdf", func(w io.Writer) error { return draw(w, s.Words, paper.A4, c) })
}

// Write makes a sheet in the person's folder and opens it.
func (s *Stage) Write(name string, draw func(io.Writer) error) {
	var b bytes.Buffer
	dir := s.PaperDir()
	err := draw(&b)
	if err == nil {
		err = os.MkdirAll(dir, 0o700)
	}
	path := filepath.Join(dir, name)
	if err == nil {
		err = os.WriteFile(path, b.Bytes(), 0o600)
	}
	if err != nil {
		s.Message(s.Say("file.failed", err.Error()))
		return
	}
	s.Note("made " + path)
	s.Message(s.Say("file.made", path))
	s.Open(path)
}
