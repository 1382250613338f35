package app

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"mvuke/app/demo"
	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

type touch struct {
	o    fyne.CanvasObject
	text func() string
}

// stage is a shell on the demo clinic in the toolkit's own test window.
type stage struct {
	t      *testing.T
	d      *work.Desk
	clk    *demo.Clock
	win    fyne.Window
	shell  *Shell
	things []touch
}

func open(t *testing.T, lang string, size fyne.Size) *stage {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	s := onRegister(t, t.TempDir(), time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))
	if err := demo.Fill(s.d, s.clk); err != nil {
		t.Fatal(err)
	}
	s.inWindow(lang, size)
	return s
}

// onRegister opens a folder at a moment, without a window yet.
func onRegister(t *testing.T, dir string, now time.Time) *stage {
	t.Helper()
	s := &stage{t: t, clk: demo.NewClock(now)}
	d, err := work.Open(dir, work.Options{Clock: s.clk})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	s.d = d
	return s
}

// inWindow puts the shell into the toolkit's test window, and watches what is on it.
func (s *stage) inWindow(lang string, size fyne.Size) {
	test.NewTempApp(s.t)
	widgets.Watch = func(o fyne.CanvasObject, text, _ func() string) { s.things = append(s.things, touch{o, text}) }
	s.t.Cleanup(func() { widgets.Watch = nil })
	s.win = test.NewTempWindow(s.t, nil)
	s.shell = New(s.d, s.win, Options{Language: lang, Quiet: true})
	s.win.Resize(size)
}

func (s *stage) at(o fyne.CanvasObject) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}

// shown are the things that lie on the screen now.
func (s *stage) shown() (out []touch) {
	for _, x := range s.things {
		if p := s.at(x.o); x.o.Visible() && (p.X != 0 || p.Y != 0) {
			out = append(out, x)
		}
	}
	return out
}

// tap taps the thing with a text, in the window's language.
func (s *stage) tap(text string) {
	s.t.Helper()
	for _, x := range s.shown() {
		if x.text() == text {
			if b, ok := x.o.(fyne.Tappable); ok {
				test.Tap(b)
				return
			}
		}
	}
	var have []string
	for _, x := range s.shown() {
		have = append(have, x.text())
	}
	s.t.Fatalf("%q is not there; there are %q", text, have)
}

func (s *stage) ids() []model.ID {
	ids, err := s.d.LatestCycles(10)
	if err != nil {
		s.t.Fatal(err)
	}
	return ids
}

// Case 99: at every size, in every language and in one whose words are 40 % longer, nothing to touch
// lies beyond the edge of the window, and what is tapped with gloves is tall enough.
func TestCase099EverythingIsInReach(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1024, Height: 600}, {Width: 1093, Height: 614}, {Width: 600, Height: 1024}} {
		for _, lang := range append(assets.Languages(), assets.Stretched) {
			s := open(t, lang, size)
			ids := s.ids()
			for _, place := range []string{screens.ToToday, screens.ToPot, screens.ToRelease, screens.ToCycle, screens.ToCycles, screens.ToPeople, screens.ToSetup, screens.ToSlip, screens.ToLearn, screens.ToTaught, screens.ToPacks, screens.ToPackNew, screens.ToTests, screens.ToCompare, screens.ToSets, screens.ToSetEdit, screens.ToPolicies, screens.ToStock,
				screens.ToCare, screens.ToHeight, screens.ToIncidents, screens.ToReferences, screens.ToShelf, screens.ToLists, screens.ToStick} {
				s.shell.Go(place, ids[1])
				n := 0
				for _, x := range s.shown() {
					p, sz := s.at(x.o), x.o.Size()
					if n++; p.X < -0.5 || p.X+sz.Width > size.Width+0.5 {
						t.Errorf("%s %s %v: %q lies from %.0f to %.0f", place, lang, size, x.text(), p.X, p.X+sz.Width)
					}
					if _, button := x.o.(*widgets.Button); button && sz.Height < 55 {
						t.Errorf("%s %s: button %q is %.0f high", place, lang, x.text(), sz.Height)
					}
				}
				if n < 6 {
					t.Errorf("%s %s: only %d things to touch", place, lang, n)
				}
			}
		}
	}
}

// words gathers all paragraphs of a screen.
func words(o fyne.CanvasObject) string {
	var b strings.Builder
	var walk func(fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch x := o.(type) {
		case *widgets.Para:
			b.WriteString(x.Text + "\n")
		case *widgets.Big:
			b.WriteString(x.Text + "\n")
		case *widgets.Notice:
			b.WriteString(x.AccessibilityLabel() + "\n")
		case *widgets.Row:
			b.WriteString(x.AccessibilityLabel() + "\n")
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c)
			}
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c)
			}
		}
	}
	walk(o)
	return b.String()
}

// Wherever a number for the pot is shown, the cautions stand with it.
func TestCautionsStandWithEveryNumber(t *testing.T) {
	for _, lang := range assets.Languages() {
		s := open(t, lang, fyne.NewSize(1024, 600))
		w := assets.For(lang)
		for _, place := range []string{screens.ToPot, screens.ToRelease, screens.ToCycle, screens.ToSetup, screens.ToSlip, screens.ToTaught, screens.ToLearn, screens.ToCompare, screens.ToCare, screens.ToHeight, screens.ToIncidents} {
			s.shell.Go(place, s.ids()[1])
			text := words(s.win.Content())
			for _, key := range []string{"caution.open", "caution.line"} {
				if !strings.Contains(text, w.Say(key)) {
					t.Errorf("%s in %s lacks %s", place, lang, key)
				}
			}
			if strings.Contains(text, "[") {
				t.Errorf("%s in %s: a word is missing: %s", place, lang, text[strings.Index(text, "["):])
			}
		}
	}
}

// Case 92: one person in French, the next in English; the records are the same.
func TestCase092LanguageChangesNoRecord(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	s.shell.Go(screens.ToPot, model.ID{})
	look := func() {
		s.shell.run.SetNeedle(142)
		w := s.shell.stage.Words
		s.tap(w.Say("pot.stayed", "125"))
	}
	look()
	s.clk.Pass(4 * time.Minute)
	s.shell.speak("fr")
	look()
	c, err := s.d.UnderWay()
	if err != nil {
		t.Fatal(err)
	}
	n := len(c.Readings)
	a, b := c.Readings[n-2], c.Readings[n-1]
	if a.NeedleMilli != b.NeedleMilli || a.Answer != b.Answer || b.Answer != model.Stayed {
		t.Errorf("%+v and %+v", a, b)
	}
}

// A load that the readings failed has no button that releases it; a rejection is always there.
func TestFailedLoadHasNoReleaseButton(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	c, err := s.d.UnderWay()
	if err != nil {
		t.Fatal(err)
	}
	id := c.State.Ref.ID // sixteen minutes held, and the fire is drawn
	zero := int64(0)
	for _, code := range []model.StepCode{model.StepFireDrawn, model.StepSteamOut, model.StepZero, model.StepOpened} {
		s.clk.Pass(5 * time.Minute)
		if err := s.d.Step(id, code, &zero); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.d.CloseCycle(id, model.CycleClosed{Outcome: model.RanThrough}); err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToRelease, id)
	reject := false
	for _, x := range s.shown() {
		if strings.HasPrefix(x.text(), "Release ") {
			t.Errorf("there is a button %q", x.text())
		}
		reject = reject || x.text() == "Reject the whole load"
	}
	if !reject {
		t.Error("the load cannot be rejected")
	}
}

// Leaving a lit pot is one tap and one yes, and ends the load as not sterile.
func TestLeaveIsAlwaysInReach(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	s.shell.Go(screens.ToPot, model.ID{})
	s.tap("Draw the fire and leave")
	s.tap("Yes")
	if c, err := s.d.UnderWay(); err != nil || c != nil {
		t.Errorf("still under way: %v", err)
	}
	if c, _ := s.d.Cycle(s.ids()[0]); !c.Aborted() {
		t.Error("not given up")
	}
}

// Closing the valve early asks first, and a no leaves it open.
func TestEarlyValveAsks(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	if err := s.d.CloseCycle(s.ids()[0], model.CycleClosed{Outcome: model.Aborted, Reason: "x"}); err != nil {
		t.Fatal(err)
	}
	p, _ := s.d.Place()
	id, _, err := s.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 900), TestPack: true, WaterML: 2600})
	if err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToPot, id)
	for _, b := range []string{"Lid is shut", "Fire is lit"} {
		s.tap(b)
	}
	s.tap("Steady steam now") // at once: it asks
	s.tap("No")
	if c, _ := s.d.Cycle(id); len(c.Steps) != 2 {
		t.Fatalf("%d steps: steam was believed as soon as the fire was lit", len(c.Steps))
	}
	s.clk.Pass(17 * time.Minute)
	s.tap("Steady steam now")
	s.tap("Air valve is closed")
	if c, _ := s.d.Cycle(id); len(c.Steps) != 3 {
		t.Fatalf("%d steps: the valve was closed without a question", len(c.Steps))
	}
	s.tap("No")
	s.clk.Pass(11 * time.Minute)
	s.tap("Air valve is closed")
	if c, _ := s.d.Cycle(id); len(c.Steps) != 4 {
		t.Error("after the full time it still asks")
	}
}

// A slip of the finger in setup can be put right; what stood before stays in the register.
func TestSetupCanBeCorrected(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	p, err := s.d.Place()
	if err != nil {
		t.Fatal(err)
	}
	a := demo.Answers("en")
	a.Site.HeightM = 2400
	if err := s.d.Correct(p.Pots[0], p, a); err != nil {
		t.Fatal(err)
	}
	if now, _ := s.d.Place(); now.Site.HeightM != 2400 || now.Site.Name != p.Site.Name || len(now.Pots) != 1 {
		t.Errorf("%+v", now)
	}
	s.shell.Go(screens.ToCorrect, model.ID{})
	for range 3 {
		s.tap("Next")
	}
	if now, _ := s.d.Place(); now.Site.HeightM != 2400 || now.Pots[0].Gauge.SpanMilli != 250_000 || now.Pots[0].Looks.LimitPa != 180_000 {
		t.Errorf("going through without a change changed something: %+v", now)
	}
}
