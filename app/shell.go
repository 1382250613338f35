package app

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"mvuke/app/screens"
	"mvuke/app/screens/learn"
	"mvuke/app/screens/pot"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// Options of a shell.
type Options struct {
	Language string
	Trace    *Trace // record of events of a test run; nil: none
	Quiet    bool   // no sound, no viewer: for pictures and tests
}

// Shell is the open window.
type Shell struct {
	stage  *screens.Stage
	win    fyne.Window
	o      Options
	body   *fyne.Container
	rail   *widgets.Rail
	bar    *widgets.Bar
	foot   *widgets.Foot
	place  string
	id     model.ID
	learn  *learn.View // practice on the screen; nil: none
	run    *pot.Run    // the cycle on the fire; kept while another screen is shown, so that it still calls
	called bool        // the line that calls to the pot stands on this screen
	scan   scanner
	scale  float32
	stop   chan struct{}
}

// narrow is the width below which the places lie in a bar below.
const narrow = 760

// New fills a window with the register at a desk.
func New(d *work.Desk, win fyne.Window, o Options) *Shell {
	s := &Shell{win: win, o: o, body: container.NewStack(), stop: make(chan struct{})}
	s.scale = float32(s.remembered().FloatWithFallback("scale", 1))
	s.stage = &screens.Stage{Desk: d, Win: win, Go: s.Go, Show: s.show, Again: func() { s.Go(s.place, s.id) },
		AtOnce: o.Quiet, Beep: s.beep, Open: s.open, Speak: s.speak, Scale: s.resize, Note: s.note,
		Acts: func() { s.foot.SetText(s.stage.Say("who.acting"), s.who()) }}
	s.stage.Words = assets.For(s.language())
	s.theme()
	s.build()
	s.listen()
	return s
}

// language is the one asked for, else that of the site.
func (s *Shell) language() string {
	if s.o.Language != "" {
		return s.o.Language
	}
	if l := s.remembered().String("language"); l != "" {
		return l
	}
	if p, err := s.stage.Desk.Place(); err == nil && p.Site.Language != "" {
		return p.Site.Language
	}
	return assets.Fallback
}

// remembered are the settings of this screen: language and size of text.
func (s *Shell) remembered() fyne.Preferences { return fyne.CurrentApp().Preferences() }

func (s *Shell) theme() {
	fyne.CurrentApp().Settings().SetTheme(widgets.NewTheme(assets.Regular, assets.Bold, s.scale))
}

// places of the rail, in order.
var places = []string{screens.ToToday, screens.ToPot, screens.ToPacks, screens.ToCycles, screens.ToTests, screens.ToPeople, screens.ToLearn, screens.ToSetup}

func (s *Shell) build() {
	var items []widgets.RailItem
	for _, p := range places {
		items = append(items, widgets.RailItem{Text: s.stage.Say("nav." + p), Tapped: func() { s.Go(p, model.ID{}) }})
	}
	s.rail = widgets.NewRail(s.stage.Say("app.name"), items)
	s.bar = widgets.NewBar(items)
	s.foot = widgets.NewFoot(s.stage.Say("who.acting"), s.who(), func() { s.stage.AskWho(func() { s.Go(s.place, s.id) }) })
	s.rail.SetFooter(s.foot)
	s.win.SetTitle(s.stage.Say("app.name"))
	s.win.SetContent(widgets.NewShell(s.rail, s.bar, s.body, narrow))
}

func (s *Shell) who() string {
	if n := s.stage.Desk.Person(s.stage.Desk.Acting()).Name; n != "" {
		return n
	}
	return s.stage.Say("who.nobody")
}

// Start shows the first screen: the six questions, the cycle on the fire, or Today. It asks for
// the date where the clock cannot be right.
func (s *Shell) Start() {
	if s.stage.Desk.NeedsSetup() {
		s.Go(screens.ToSetup, model.ID{})
		return
	}
	ask := s.stage.Desk.AskDate() // before anything is written with a clock that cannot be right
	lit, err := s.stage.Desk.Wake()
	first := func() {
		if !s.stage.Tell(err) || lit.IsZero() {
			s.Go(screens.ToToday, model.ID{})
			return
		}
		s.Go(screens.ToPot, lit)
	}
	first()
	if ask || s.stage.Desk.AskDate() {
		s.stage.AskDate(first)
	}
}

// Go shows a screen.
func (s *Shell) Go(place string, id model.ID) {
	if s.stage.Desk.NeedsSetup() {
		place = screens.ToSetup
	}
	s.place, s.id = place, id
	s.show(s.screen(place, id))
	s.mark(place)
	s.foot.SetText(s.stage.Say("who.acting"), s.who())
	s.win.Canvas().Unfocus() // a blinking cursor at rest costs a third of a core
	s.note("screen " + place)
}

// show puts another page of the same place on the screen.
func (s *Shell) show(o fyne.CanvasObject) {
	s.called = false
	s.stage.Turn++
	s.body.Objects = []fyne.CanvasObject{o}
	s.body.Refresh()
}

func (s *Shell) screen(place string, id model.ID) fyne.CanvasObject {
	switch place {
	case screens.ToPot:
		if s.run = pot.New(s.stage); s.run != nil {
			return s.run.Object()
		}
		return pot.Load(s.stage)
	case screens.ToLoad:
		if s.run = pot.New(s.stage); s.run != nil {
			return s.run.Object()
		}
		return pot.Load(s.stage)
	case screens.ToSlip:
		return pot.Slip(s.stage)
	case screens.ToRelease:
		return screens.Release(s.stage, id)
	case screens.ToCycles:
		return screens.Cycles(s.stage)
	case screens.ToCycle:
		s.forget()
		return screens.Cycle(s.stage, id)
	case screens.ToPeople:
		return screens.People(s.stage)
	case screens.ToSetup:
		if s.stage.Desk.NeedsSetup() {
			return screens.Setup(s.stage)
		}
		return screens.Site(s.stage)
	case screens.ToCorrect:
		return screens.Correct(s.stage)
	case screens.ToTests:
		return screens.Tests(s.stage)
	case screens.ToStock:
		return screens.Stock(s.stage)
	case screens.ToPolicies:
		return screens.Policies(s.stage)
	case screens.ToSets:
		return screens.Sets(s.stage)
	case screens.ToSetEdit:
		return screens.SetEdit(s.stage, id)
	case screens.ToCount:
		return screens.Count(s.stage, id)
	case screens.ToCompare:
		return screens.Compare(s.stage, id)
	case screens.ToPacks:
		return screens.Packs(s.stage)
	case screens.ToPack:
		return screens.Pack(s.stage, id)
	case screens.ToPackNew:
		return screens.PackNew(s.stage)
	case screens.ToCare:
		return screens.Care(s.stage, id)
	case screens.ToHeight:
		return screens.Altitude(s.stage)
	case screens.ToIncidents:
		return screens.Incidents(s.stage)
	case screens.ToReferences:
		return screens.References(s.stage)
	case screens.ToShelf:
		return screens.ShelfCount(s.stage)
	case screens.ToStick:
		return screens.Stick(s.stage)
	case screens.ToRecalls:
		return screens.Recalls(s.stage)
	case screens.ToRecall:
		return screens.Recall(s.stage, id)
	case screens.ToClashes:
		return screens.Clashes(s.stage)
	case screens.ToSite:
		return screens.SitePage(s.stage, id)
	case screens.ToLookBack:
		return screens.LookBack(s.stage, id)
	case screens.ToDevices:
		return screens.Devices(s.stage)
	case screens.ToLists:
		return screens.Lists(s.stage)
	case screens.ToLearn:
		return learn.Lessons(s.stage, s.practise)
	case screens.ToTaught:
		return screens.Taught(s.stage, id)
	case screens.ToCard:
		defer screens.MakeCard(s.stage)
		return screens.Site(s.stage)
	case screens.ToClock:
		defer s.stage.AskDate(func() { s.Go(screens.ToToday, model.ID{}) })
	}
	return screens.Today(s.stage)
}

// under says below which place of the rail a screen lies.
var under = map[string]string{screens.ToClock: screens.ToToday, screens.ToLoad: screens.ToPot, screens.ToSlip: screens.ToPot,
	screens.ToPack: screens.ToPacks, screens.ToPackNew: screens.ToPacks, screens.ToSets: screens.ToPacks, screens.ToSetEdit: screens.ToPacks, screens.ToCount: screens.ToPacks, screens.ToCycle: screens.ToCycles, screens.ToRelease: screens.ToCycles,
	screens.ToCard: screens.ToSetup, screens.ToCorrect: screens.ToSetup, screens.ToTaught: screens.ToSetup, screens.ToCompare: screens.ToTests, screens.ToPolicies: screens.ToSetup, screens.ToStock: screens.ToPacks,
	screens.ToCare: screens.ToTests, screens.ToIncidents: screens.ToTests, screens.ToReferences: screens.ToTests, screens.ToHeight: screens.ToSetup, screens.ToShelf: screens.ToPacks, screens.ToLists: screens.ToSetup, screens.ToStick: screens.ToToday, screens.ToDevices: screens.ToToday, screens.ToRecalls: screens.ToTests, screens.ToRecall: screens.ToTests, screens.ToLookBack: screens.ToTests, screens.ToSite: screens.ToToday, screens.ToClashes: screens.ToToday}

// mark shows in the rail where we are.
func (s *Shell) mark(place string) {
	at := 0
	for i, p := range places {
		if p == place || p == under[place] {
			at = i
		}
	}
	s.rail.Select(at)
	s.bar.Select(at)
}

func (s *Shell) speak(lang string) {
	s.stage.Words = assets.For(lang)
	s.remembered().SetString("language", lang)
	s.build()
	s.Go(s.place, s.id)
}

func (s *Shell) resize(scale float32) {
	s.scale = scale
	s.remembered().SetFloat("scale", float64(scale))
	s.theme()
	s.build()
	s.Go(s.place, s.id)
}

// LetTimePass runs until Stop: each second where a cycle is on the fire, else it sleeps. A copy of
// the register is made once a day, in the background.
func (s *Shell) LetTimePass() {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case <-s.stop:
			return
		case <-tick.C:
			fyne.Do(func() {
				if s.run != nil {
					s.run.Tick() // also behind a practice: a lit pot still calls
					s.callToPot()
				}
				s.o.Trace.Dump()
			})
		}
	}
}

// callToPot puts a line over any other screen when a look at the needle is due: not everybody hears the sound.
func (s *Shell) callToPot() {
	if s.called || s.place == screens.ToPot || s.place == screens.ToLoad || s.learn != nil || !s.run.Due() {
		return
	}
	s.called = true
	line := widgets.NewRow(widgets.Disc, widgets.Vermilion, s.stage.Say("tag.now"), s.stage.Say("pot.due"), s.stage.Say("go.pot"), func() { s.Go(screens.ToPot, model.ID{}) })
	s.body.Objects = []fyne.CanvasObject{container.NewBorder(line, nil, nil, nil, s.body.Objects...)}
	s.body.Refresh()
}

// forget lets go of a cycle that is over; one on the fire still calls.
func (s *Shell) forget() {
	if lit, err := s.stage.Desk.UnderWay(); err == nil && lit == nil {
		s.run = nil
	}
}

// Stop ends what runs beside the window.
func (s *Shell) Stop() {
	close(s.stop)
	if s.learn != nil { // the window was closed in the middle of practice
		if err := s.learn.Session().Close(); err != nil {
			s.note(err.Error())
		}
	}
}

// settle is the time after the start before the background looks the file over: the person comes first.
const settle = 30 * time.Second

// Check looks the whole file over once the first screen is there, and keeps a copy; what it finds
// wrong it says.
func (s *Shell) Check() {
	time.Sleep(settle)
	if s.stage.Desk.NeedsSetup() {
		return
	}
	err := s.stage.Desk.QuickCheck()
	if err == nil && s.stage.Desk.BackupDue() {
		_, _, err = s.stage.Desk.Backup()
	}
	if err != nil {
		fyne.Do(func() { s.stage.Tell(err) })
	}
}

func (s *Shell) note(event string) { s.o.Trace.Note(event) }
