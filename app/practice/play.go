package practice

import (
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam/pot"
)

// Player does at a practice pot what a person does, by the same acts, moving the clock by hand. It makes pictures and
// tries the lessons; its habits are those of a careful person unless they are changed.
type Player struct {
	S      *Session
	Vent   float64       // minutes vented; 10.2
	Wait   bool          // waits for a steady jet
	Honest bool          // says what the needle did; else swears that it stayed
	Stop   func() bool   // asked every half minute: true ends the play
	Asleep float64       // min for which a dead fire is not seen
	Rest   float64       // needle at rest as typed in
	water  float64       // litres typed in
	tick   time.Duration // of the practice clock
	id     model.ID
	plan   model.FrozenPlan
	stage  int // of Go
}

// NewPlayer is a careful person.
func NewPlayer(s *Session) *Player {
	return &Player{S: s, Vent: 10.2, Wait: true, Honest: true, Stop: func() bool { return false }, water: s.start.Water, tick: 30 * time.Second}
}

// pass lets time go by; true: it is over.
func (p *Player) pass(d time.Duration) bool {
	p.S.Clock.Skip(d)
	p.S.Tick()
	p.S.Desk.Stir()
	return p.S.Over() || p.Stop()
}

func (p *Player) step(code model.StepCode, needle *int64) error {
	if err := p.S.Desk.Step(p.id, code, needle); err != nil {
		return err
	}
	p.S.Tick()
	return nil
}

// Begin fills in the form; the refusal is that of the desk.
func (p *Player) Begin() error {
	place, err := p.S.Desk.Place()
	if err != nil {
		return err
	}
	packs := []model.LoadPack{{Label: "P-1", Tape: true, Strip: true}, {Label: "P-2", Tape: true, Strip: true}}
	id, planned, err := p.S.Desk.Begin(place.Pots[0], place.Site, work.BeginForm{Item: model.Wrapped, Packs: packs, TestPack: true,
		WaterML: int64(p.water * 1000), Fuel: "wood", Rest: model.MilliDown(p.Rest)})
	p.id, p.plan = id, planned.Frozen
	return err
}

// Run plays from the begun form to the end of the lesson, or until Stop.
func (p *Player) Run() error {
	s := p.S
	if err := p.step(model.StepLidShut, nil); err != nil {
		return err
	}
	s.Light()
	if err := p.step(model.StepLit, nil); err != nil {
		return err
	}
	return p.Go()
}

// Go goes on where Stop ended the play.
func (p *Player) Go() error {
	for stages := []func() (bool, error){p.steam, p.vent, p.hold, p.finish}; p.stage < len(stages); p.stage++ {
		if over, err := stages[p.stage](); over || err != nil {
			return err
		}
	}
	return nil
}

// steam waits for it.
func (p *Player) steam() (over bool, err error) {
	s := p.S
	for p.Wait && s.Scene.Jet() != pot.JetSteady || s.Scene.Jet() == pot.JetNone {
		if p.pass(p.tick) || s.Scene.Minutes > 150 {
			return true, nil
		}
		p.stoke(1900)
	}
	return false, nil
}

// vent lets the air out, and begins anew where somebody has shut the valve.
func (p *Player) vent() (over bool, err error) {
	s := p.S
	if err := p.step(model.StepVentStart, nil); err != nil {
		return true, err
	}
	for streamed := 0.0; streamed < p.Vent; streamed += p.tick.Minutes() {
		if p.pass(p.tick) {
			return true, nil
		}
		p.stoke(1900)
		if s.Scene.Jet() != pot.JetSteady && p.Wait {
			s.Valve(2)
			if s.Scene.Struck(pot.ValveShut) && streamed > 0.5 {
				if streamed = 0; p.pass(p.tick) {
					return true, nil
				}
				if err := p.step(model.StepVentStart, nil); err != nil {
					return true, err
				}
			}
		}
	}
	s.Valve(0)
	return s.Over(), p.step(model.StepVentEnd, nil)
}

func (p *Player) stoke(least float64) {
	if f := p.S.Scene.Fire; f.Full() < least && f.Fresh < 0.5 {
		p.S.Feed()
	}
}

// hold brings the needle to the mark and keeps it there, with a look every five minutes.
func (p *Player) hold() (over bool, err error) {
	s := p.S
	mark, line := float64(p.plan.MarkMilli)/1000, float64(p.plan.RestartMilli)/1000
	last, wait, lowest, tamed := s.Scene.Needle(), 0.0, s.Scene.Needle(), false
	for s.Scene.Minutes < 240 {
		if p.pass(p.tick) {
			return true, nil
		}
		if s.Called {
			s.Draw()
			s.Valve(2)
			return true, p.step(model.StepLeft, nil)
		}
		n := s.Scene.Needle()
		rise := (n - last) / p.tick.Seconds()
		last, lowest = n, min(lowest, n)
		ahead := n + rise*75
		if s.Scene.Struck(pot.FireDies) && p.Asleep > 0 {
			p.Asleep -= p.tick.Minutes()
		} else if tamed = tamed || ahead >= mark; tamed {
			want := 700 + (mark+2-ahead)*30
			s.Scene.Fire.Draught = min(max((want/max(s.Scene.Fire.Full(), 1)-0.08)/0.92, 0), 1)
			p.stoke(1100)
		} else {
			p.stoke(1900)
		}
		if n < line && wait == 0 || s.Scene.Minutes < wait {
			continue
		}
		if err := p.look(n, lowest, line, wait > 0); err != nil {
			return true, err
		}
		wait, lowest = s.Scene.Minutes+4.5, n
		c, err := s.Desk.Cycle(p.id)
		if err != nil {
			return true, err
		}
		r, err := s.Desk.Judge(c)
		if err != nil {
			return true, err
		}
		if r.Held >= r.Asked {
			s.Draw()
			return false, p.step(model.StepFireDrawn, nil)
		}
	}
	return true, nil
}

func (p *Player) look(n, lowest, line float64, again bool) error {
	needle, low := p.S.Scene.Dial.Read(p.S.Scene.Pot.State().Over, nil), lowest
	answer := model.NoAnswer
	switch {
	case !again:
	case !p.Honest, low >= line && needle >= line:
		answer = model.Stayed
	default:
		answer = model.Dipped
	}
	return p.S.Desk.Look(p.id, model.MilliDown(needle), answer, model.MilliDown(min(low, needle)))
}

// finish lets the steam out and opens at zero.
func (p *Player) finish() (over bool, err error) {
	s := p.S
	p.pass(time.Minute)
	s.Valve(1)
	if err := p.step(model.StepSteamOut, nil); err != nil {
		return true, err
	}
	for s.Scene.Pot.State().Over > 500 {
		if p.pass(p.tick) {
			return true, nil
		}
	}
	rest := model.MilliDown(p.Rest)
	if err := p.step(model.StepZero, &rest); err != nil {
		return true, err
	}
	p.pass(2 * time.Minute)
	return false, p.step(model.StepOpened, &rest)
}
