package practice

import (
	"math"

	"mvuke/model"
	"mvuke/model/register"
	"mvuke/steam"
	"mvuke/steam/pot"
)

// notes are what was seen of the truth while the person worked.
type notes struct {
	steadyAtVent bool // the jet was steady when "steady steam" was said
	ventSaid     bool
	streaming    float64 // min that steam streamed since the vent was last begun
	leftAlone    bool
	leftSafely   bool
	openedUnder  bool
	zeroTold     bool
	falseOaths   int
	oaths        int
	airAtHold    float64
	packAir      float64
	holdBegan    bool
	over         bool // above the limit
	dry          bool
	restUntrue   bool
	fireTold     bool // a dip was told, or the load given up, after the fire died
	lastMinute   float64
	hot          float64 // min that the chamber was really at the set temperature since the hold began
	untrue       int     // needles entered higher than they stood
	doubted      bool    // the gauge was said not to be believed
}

// notice compares what the person has just recorded with the truth of the moment.
func (s *Session) notice() {
	st := s.Scene.Pot.State()
	n := &s.notes
	if d := s.Scene.Minutes - n.lastMinute; d > 0 && n.ventSaid && s.Scene.Jet() == pot.JetSteady {
		n.streaming += d
	}
	if d := s.Scene.Minutes - n.lastMinute; d > 0 && n.holdBegan && st.T >= 120.5 {
		n.hot += d
	}
	n.lastMinute = s.Scene.Minutes
	n.over = n.over || st.Over > limitPa
	n.dry = n.dry || s.Scene.Pot.Dry
	c, ok := s.Under()
	if !ok {
		return
	}
	es := c.State.Entries
	for _, v := range es[min(s.seen, len(es)):] {
		b := v.Body()
		switch b.Kind {
		case model.KindCycleBegun:
			rest := float64(c.Begun.RestMilli) / 1000
			n.restUntrue = math.Abs(rest-s.Scene.Dial.Needle(0)) > s.Scene.Dial.Line*0.6
		case model.KindStep:
			var x model.Step
			if b.Decode(&x) == nil {
				s.step(x, st)
			}
		case model.KindReadings:
			var r model.Readings
			if b.Decode(&r) == nil && len(r.List) > 0 {
				s.look(c, r.List[len(r.List)-1], st)
			}
		}
	}
	s.seen = len(es)
}

func (s *Session) step(x model.Step, st pot.State) {
	n := &s.notes
	switch x.Code {
	case model.StepVentStart:
		n.ventSaid, n.streaming = true, 0
		n.steadyAtVent = s.Scene.Jet() == pot.JetSteady
	case model.StepZero:
		n.zeroTold = st.Over < hurting
	case model.StepOpened:
		n.openedUnder = n.openedUnder || (s.LidOn && st.Over > hurting)
		s.LidOn, s.Scene.Lid = false, false
	case model.StepLeft:
		safe := s.Scene.Opening >= 0.5 && !s.Lit()
		n.leftSafely = safe && s.gone && n.holdBegan
		n.leftAlone = n.leftAlone || !safe
	}
}

// look compares an answer with what the needle did since the last look.
func (s *Session) look(c register.Cycle, r model.Reading, st pot.State) {
	n := &s.notes
	low := s.Scene.Lowest()
	line := float64(c.Begun.Plan.RestartMilli) / 1000
	eye := s.Scene.Dial.Line / 2
	if float64(r.NeedleMilli)/1000 > s.Scene.Needle()+2*eye {
		n.untrue++ // invented, or read badly in the dangerous direction
	}
	switch r.Answer {
	case model.Stayed:
		n.oaths++
		if low < line-eye {
			n.falseOaths++
		}
	case model.Dipped:
		n.oaths++
		if float64(r.LowestMilli)/1000 > low+eye*2 {
			n.falseOaths++
		}
		n.fireTold = n.fireTold || r.LowestMilli < c.Begun.Plan.RestartMilli
	}
	if r.NeedleMilli >= c.Begun.Plan.RestartMilli && !n.holdBegan {
		n.holdBegan, n.airAtHold, n.packAir = true, st.Air, st.PackAir
	}
	if r.NeedleMilli < c.Begun.Plan.RestartMilli && n.holdBegan {
		n.fireTold = true
	}
}

// airOut says whether the air was out when the hold began.
func (n notes) airOut() bool {
	return n.holdBegan && n.airAtHold <= steam.AirLeft && n.packAir <= 2*steam.AirLeft
}
