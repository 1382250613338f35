package app

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/screens/learn"
	"mvuke/assets"
	"mvuke/model"
)

// practising opens the window with no real fire, and a lesson in it.
func practising(t *testing.T, lang string, size fyne.Size, code string) (*stage, *learn.View) {
	t.Helper()
	s := open(t, lang, size)
	s.putOut()
	s.shell.Go(screens.ToLearn, model.ID{})
	l, ok := practice.LessonOf(code)
	if !ok {
		t.Fatal(code)
	}
	v := s.shell.Practise(l)
	if v == nil {
		t.Fatal("practice did not begin")
	}
	t.Cleanup(func() { v.Session().Close() })
	return s, v
}

// putOut gives the demo's lit cycle up.
func (s *stage) putOut() {
	s.t.Helper()
	c, err := s.d.UnderWay()
	if err != nil || c == nil {
		s.t.Fatal(err)
	}
	if err := s.d.CloseCycle(c.State.Ref.ID, model.CycleClosed{Outcome: model.Aborted, Reason: "x"}); err != nil {
		s.t.Fatal(err)
	}
}

// Practice says that it is practice on every screen, keeps within the window, and shows the cautions.
func TestPracticeIsMarkedOnEveryScreen(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1024, Height: 600}, {Width: 1366, Height: 768}, {Width: 600, Height: 1024}} {
		for _, lang := range append(assets.Languages(), assets.Stretched) {
			s, v := practising(t, lang, size, "open")
			word := strings.Fields(assets.For(lang).Say("learn.head", "", ""))[0]
			p := practice.NewPlayer(v.Session())
			stops := []func() bool{func() bool { return v.Session().Lit() }, func() bool { return v.Session().Scene.Needle() > 90 }, func() bool { return v.Session().Scene.Minutes > 75 }}
			check := func(where string) {
				t.Helper()
				text := words(s.win.Content())
				if !strings.Contains(text, word) {
					t.Errorf("%s in %s at %v: nothing says that it is practice", where, lang, size)
				}
				if !strings.Contains(text, assets.For(lang).Say("caution.open")) {
					t.Errorf("%s in %s at %v: no caution", where, lang, size)
				}
				for _, x := range s.shown() {
					if at, sz := s.at(x.o), x.o.Size(); at.X < -0.5 || at.X+sz.Width > size.Width+0.5 {
						t.Errorf("%s %s %v: %q lies from %.0f to %.0f", where, lang, size, x.text(), at.X, at.X+sz.Width)
					}
				}
			}
			check("form")
			if err := p.Begin(); err != nil {
				t.Fatal(err)
			}
			for i, stop := range stops {
				p.Stop = stop
				do := p.Go
				if i == 0 {
					do = p.Run
				}
				if err := do(); err != nil {
					t.Fatal(err)
				}
				v.Show()
				check("cycle")
			}
			v.End()
			check("end")
		}
	}
}

// A lesson that is passed stands beside the person's name in the clinic's register, and nothing else of it does.
func TestAPassedLessonIsNoted(t *testing.T) {
	s, v := practising(t, "en", fyne.NewSize(1024, 600), "air")
	person := s.d.Acting()
	cycles := len(s.ids())
	p := practice.NewPlayer(v.Session())
	if err := p.Begin(); err != nil {
		t.Fatal(err)
	}
	if err := p.Run(); err != nil {
		t.Fatal(err)
	}
	v.Tick()
	if text := words(s.win.Content()); !strings.Contains(text, "PRACTICE ended") {
		t.Fatalf("the lesson did not end: %s", text)
	}
	tr, err := s.d.Training(person)
	if err != nil || len(tr.Lessons) != 1 || tr.Lessons[0] != "air" {
		t.Fatalf("%+v %v", tr, err)
	}
	if len(s.ids()) != cycles {
		t.Error("the practice left a cycle in the register")
	}
	s.tap("To the lessons")
	if !strings.Contains(words(s.win.Content()), "1 of 10 passed") {
		t.Error("the list does not show what was passed")
	}
	s.shell.Go(screens.ToPeople, model.ID{})
	s.tap("Sister Asha · 1 of 10 lessons passed · not signed off to act alone")
	s.tap("Sign off to act alone")
	s.tap("Yes")
	if tr, _ := s.d.Training(person); !tr.Signed.IsZero() {
		t.Error("a person signed themselves off")
	}
}

// A real fire comes first.
func TestNoPracticeBesideARealFire(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	l, _ := practice.LessonOf("air")
	if v := s.shell.Practise(l); v != nil {
		t.Error("practice began while a cycle was on the fire")
	}
}

// The hands at the pot do what they say.
func TestHandsAtThePracticePot(t *testing.T) {
	s, v := practising(t, "en", fyne.NewSize(1024, 600), "open")
	x := v.Session()
	before := x.Scene.Pot.State().Water
	s.tap("Pour water")
	s.tap("OK")
	if got := x.Scene.Pot.State().Water; got < before+0.45 {
		t.Errorf("%.2f litres, %.2f before", got, before)
	}
	s.tap("Light the fire")
	s.tap("60×")
	s.clk.Pass(30 * time.Second)
	v.Tick()
	if m := x.Scene.Minutes; m < 29 || m > 31 {
		t.Errorf("thirty seconds at sixty times are %.1f minutes", m)
	}
	s.tap("½")
	s.tap("a little")
	if x.Scene.Fire.Draught != 0.45 || x.Scene.Opening > 0.2 {
		t.Errorf("draught %.2f, valve %.2f", x.Scene.Fire.Draught, x.Scene.Opening)
	}
	bed := x.Scene.Fire.Fresh
	s.tap("Wood on")
	if x.Scene.Fire.Fresh <= bed {
		t.Error("no wood was put on")
	}
	s.tap("Draw the fire")
	if x.Lit() {
		t.Error("the fire was not drawn")
	}
	s.tap("stop")
	s.clk.Pass(time.Minute)
	m := x.Scene.Minutes
	v.Tick()
	if x.Scene.Minutes != m {
		t.Error("time went on")
	}
	s.tap("End practice")
	if s.shell.learn != nil {
		t.Error("practice did not end")
	}
}
