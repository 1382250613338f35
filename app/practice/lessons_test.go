package practice

import (
	"errors"
	"os"
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/store"
	"mvuke/steam/pot"
)

// still is a real clock that stands: the practice is moved by hand.
type still struct{ at model.Moment }

func (c still) Now() model.Moment { return c.at }

func clock() model.Clock {
	return still{model.Moment{Wall: time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC), Boot: model.ID{1}, Elapsed: time.Hour}}
}

func start(t *testing.T, l Lesson, seed uint64) *Session {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	s, err := Start(l, seed, "en", "Asha", "PRACTICE", clock())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func lesson(t *testing.T, code string) Lesson {
	t.Helper()
	l, ok := LessonOf(code)
	if !ok {
		t.Fatal(code)
	}
	return l
}

func grade(t *testing.T, s *Session) Report {
	t.Helper()
	r, err := s.Grade()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A careful person passes every lesson.
func TestACarefulPersonPassesEveryLesson(t *testing.T) {
	for _, l := range Lessons {
		for seed := uint64(1); seed <= 3; seed++ {
			s := start(t, l, seed)
			p := NewPlayer(s)
			p.Rest = s.Scene.Dial.ReadRest()
			if l.Code == "alone" { // the height is put right first
				place, err := s.Desk.Place()
				if err != nil {
					t.Fatal(err)
				}
				x := place.Pots[0]
				a := work.Answers{Language: "en", Site: place.Site, Pot: x.Looks, Gauge: x.Gauge}
				a.Site.HeightM = s.HeightM()
				if err := s.Desk.Correct(x, place, a); err != nil {
					t.Fatal(err)
				}
			}
			if l.Code == "wet-wood" {
				p.Vent = 22
			}
			err := p.Begin()
			if l.Code == "gauge" {
				var refusal *work.Refusal
				if !errors.As(err, &refusal) || refusal.Code != "needle-not-on-zero" {
					t.Fatalf("a needle off zero: %v", err)
				}
				s.Doubt()
			} else if err == nil {
				err = p.Run()
				if err != nil {
					t.Fatalf("%s: %v", l.Code, err)
				}
			} else {
				t.Fatalf("%s: %v", l.Code, err)
			}
			if r := grade(t, s); !r.Passed {
				t.Errorf("%s, seed %d: missing %v, harm %v, held %.1f of %.1f, air %.3f %.3f, minute %.0f", l.Code, seed, r.Missing, r.Harm, r.Held, r.Asked, r.Air, r.PackAir, r.Minutes)
			}
		}
	}
}

// A dead fire that was seen late, and told, passes too: the minutes were begun again.
func TestADeadFireToldPasses(t *testing.T) {
	s := start(t, lesson(t, "fire"), 5)
	p := NewPlayer(s)
	p.Asleep = 6
	if err := p.Begin(); err != nil {
		t.Fatal(err)
	}
	if err := p.Run(); err != nil {
		t.Fatal(err)
	}
	if r := grade(t, s); !r.Passed || !s.notes.fireTold || r.Minutes < 100 {
		t.Errorf("%+v", r)
	}
}

// What would hurt somebody never passes, and is named.
func TestHarmIsNamedAndNeverPasses(t *testing.T) {
	for _, c := range []struct {
		code string
		hand func(p *Player)
		want Mark
	}{
		{"air", func(p *Player) { p.Wait = false }, SplutterTaken},
		{"fire", func(p *Player) { p.Honest, p.Asleep = false, 6 }, FalseOath},
		{"gauge", func(p *Player) { p.Rest = 0 }, RestUntrue},
	} {
		s := start(t, lesson(t, c.code), 5)
		p := NewPlayer(s)
		c.hand(p)
		if err := p.Begin(); err != nil {
			t.Fatalf("%s: %v", c.code, err)
		}
		if err := p.Run(); err != nil {
			t.Fatalf("%s: %v", c.code, err)
		}
		if r := grade(t, s); r.Passed || !slices.Contains(r.Harm, c.want) {
			t.Errorf("%s: passed %v, harm %v, missing %v", c.code, r.Passed, r.Harm, r.Missing)
		}
	}
	s := start(t, lesson(t, "open"), 2)
	p := NewPlayer(s)
	if err := p.Begin(); err != nil {
		t.Fatal(err)
	}
	p.Stop = func() bool { return s.Scene.Needle() > 60 }
	if err := p.Run(); err != nil {
		t.Fatal(err)
	}
	s.OpenLid()
	if r := grade(t, s); r.Passed || !slices.Contains(r.Harm, OpenedUnder) || !s.Over() {
		t.Errorf("the lid came off at %.0f kPa: %+v", s.Scene.Needle(), r)
	}
	away := start(t, lesson(t, "away"), 2)
	p = NewPlayer(away)
	if err := p.Begin(); err != nil {
		t.Fatal(err)
	}
	p.Stop = func() bool { return away.Called }
	if err := p.Run(); err != nil {
		t.Fatal(err)
	}
	away.Go()
	if r := grade(t, away); r.Passed || !slices.Contains(r.Harm, LeftAlone) {
		t.Errorf("left a lit pot: %+v", r)
	}
}

// Nothing is passed by doing nothing, by ending at once, or by leaving a pot that was never called away from.
func TestDoingNothingPassesNothing(t *testing.T) {
	for _, l := range Lessons {
		s := start(t, l, 1)
		if r := grade(t, s); r.Passed {
			t.Errorf("%s was passed by ending at once", l.Code)
		}
		s.Clock.Skip(3 * time.Hour)
		if r := grade(t, s); r.Passed {
			t.Errorf("%s was passed by waiting", l.Code)
		}
		s = start(t, l, 1)
		p := NewPlayer(s)
		p.Rest = s.Scene.Dial.ReadRest()
		if p.Begin() == nil {
			if err := errors.Join(p.step(model.StepLidShut, nil), p.step(model.StepLit, nil), p.step(model.StepLeft, nil)); err != nil {
				t.Fatal(err)
			}
			if r := grade(t, s); r.Passed {
				t.Errorf("%s was passed by leaving at once", l.Code)
			}
		}
		if l.Code != "gauge" {
			s = start(t, l, 1)
			s.Doubt()
			if r := grade(t, s); r.Passed {
				t.Errorf("%s was passed by doubting a good gauge", l.Code)
			}
		}
	}
}

// Invented readings pass nothing, whatever they say, and are named.
func TestInventedReadingsPassNothing(t *testing.T) {
	for _, code := range []string{"mark", "hold", "wet-wood", "valve"} {
		s := start(t, lesson(t, code), 4)
		p := NewPlayer(s)
		if err := p.Begin(); err != nil {
			t.Fatal(err)
		}
		p.Stop = func() bool { return s.Scene.Needle() > 40 }
		if err := p.Run(); err != nil {
			t.Fatal(err)
		}
		s.Draw()
		for m := 0; m < 60 && !s.Over(); m += 4 {
			s.Clock.Skip(4 * time.Minute)
			s.Tick()
			answer := model.LookedAway
			if m > 0 {
				answer = model.Stayed
			}
			if err := s.Desk.Look(p.id, p.plan.MarkMilli, answer, 0); err != nil {
				t.Fatal(err)
			}
			s.Tick()
		}
		if err := p.step(model.StepFireDrawn, nil); err != nil {
			t.Fatal(err)
		}
		if r := grade(t, s); r.Passed || !slices.Contains(r.Harm, FalseOath) {
			t.Errorf("%s: passed %v, harm %v", code, r.Passed, r.Harm)
		}
	}
}

// A machine that slept at sixty times lets no hours of fire go by at once.
func TestASleepLetsNoFireGoBy(t *testing.T) {
	real := &moving{clock().Now()}
	t.Setenv("MVUKE_STATE", t.TempDir())
	s, err := Start(lesson(t, "air"), 1, "en", "Asha", "PRACTICE", real)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	s.Clock.SetRate(Fastest)
	real.at.Wall, real.at.Elapsed = real.at.Wall.Add(8*time.Hour), real.at.Elapsed+8*time.Hour
	s.Tick()
	if s.Scene.Minutes > 31 {
		t.Errorf("%.0f minutes went by", s.Scene.Minutes)
	}
}

type moving struct{ at model.Moment }

func (c *moving) Now() model.Moment { return c.at }

// Practice never enters a register, is never released, and leaves nothing behind.
func TestPracticeStaysPractice(t *testing.T) {
	s := start(t, lesson(t, "open"), 1)
	p := NewPlayer(s)
	if err := p.Begin(); err != nil {
		t.Fatal(err)
	}
	if err := p.Run(); err != nil {
		t.Fatal(err)
	}
	c, ok := s.Under()
	if !ok || !c.Begun.Practice {
		t.Fatal("the cycle does not say that it is practice")
	}
	if err := s.Desk.CloseCycle(p.id, model.CycleClosed{Outcome: model.RanThrough}); err != nil {
		t.Fatal(err)
	}
	var checks []model.PackCheck
	for _, k := range c.Begun.Packs {
		checks = append(checks, model.PackCheck{Pack: k.ID, TapeOK: true, Dry: true, WrapOK: true})
	}
	if err := s.Desk.Unload(p.id, checks, true); err != nil {
		t.Fatal(err)
	}
	if err := s.Desk.Witnessed(p.id, model.Witness{Kind: model.WitnessStrip, Reached: true}); err != nil {
		t.Fatal(err)
	}
	if err := s.Desk.Release(p.id, ""); err == nil {
		t.Error("a practice load was released")
	}
	real, err := work.Open(t.TempDir(), work.Options{Clock: clock()})
	if err != nil {
		t.Fatal(err)
	}
	defer real.Close()
	if err := real.SetUp(work.Answers{Language: "en", Site: model.Site{Name: "X"}, Pot: model.Sterilizer{LimitPa: 180e3, LeastWaterML: 2500},
		Gauge: model.GaugeLooks{Unit: "kPa", SpanMilli: 250e3, LineMilli: 5e3, ClassMilli: 2500}, Person: model.Person{Name: "Y"}}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Desk.MakeCard(work.Pot{}, model.Site{}, model.Wrapped); err == nil {
		t.Error("practice made a card for a wall")
	}
	before, _ := real.Store.Count()
	c, _ = s.Under()
	if err := real.Store.Append(c.State.Entries...); !errors.Is(err, store.ErrOtherDistrict) {
		t.Errorf("entries of practice entered a register: %v", err)
	}
	if after, _ := real.Store.Count(); after != before {
		t.Errorf("%d entries before, %d after", before, after)
	}
	copied := t.TempDir() // the folder opened as if it were a clinic's
	if err := os.CopyFS(copied, os.DirFS(s.dir)); err != nil {
		t.Fatal(err)
	}
	if stolen, err := work.Open(copied, work.Options{Clock: clock()}); err != nil || !stolen.Practice {
		t.Errorf("a copied practice folder opens as a clinic's: %v", err)
	} else {
		if err := errors.Join(stolen.Close(), stolen.Forget()); err != nil {
			t.Error(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(s.dir); !os.IsNotExist(err) {
		t.Error("the folder of practice is still there")
	}
	state, _ := os.ReadDir(os.Getenv("MVUKE_STATE"))
	if len(state) != 1 { // the witness of the real register
		t.Errorf("left behind: %v", state)
	}
}

// A practice that was cut short is swept by the next; one that is open in another window is not.
func TestAPracticeCutShortIsSwept(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	s := start(t, lesson(t, "air"), 1)
	if err := s.Desk.Close(); err != nil { // as if the program had been killed
		t.Fatal(err)
	}
	open := start(t, lesson(t, "air"), 2)
	if _, err := os.Stat(s.dir); !os.IsNotExist(err) {
		t.Error("what was cut short is still there")
	}
	start(t, lesson(t, "air"), 3)
	if _, err := os.Stat(open.dir); err != nil {
		t.Error("an open practice was swept away")
	}
}

func TestMishapsStrike(t *testing.T) {
	for _, m := range []pot.Mishap{pot.ValveShut, pot.FireDies, pot.GaugeStuck, pot.CalledAway} {
		s := start(t, Free(1200, m), 3)
		p := NewPlayer(s)
		if err := p.Begin(); err != nil {
			t.Fatal(err)
		}
		if err := p.Run(); err != nil {
			t.Fatal(err)
		}
		if !s.Scene.Struck(m) {
			t.Errorf("%s did not happen", m)
		}
	}
	low := start(t, Free(1200, pot.WaterLow), 3)
	if w := low.Scene.Pot.State().Water; w > 1.6 {
		t.Errorf("%.1f kg of water", w)
	}
	if err := NewPlayer(low).Begin(); err == nil {
		t.Error("a pot with too little water was lit")
	}
}
