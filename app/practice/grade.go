package practice

import (
	"slices"

	"mvuke/model"
	"mvuke/model/register"
	"mvuke/steam/pot"
)

// Report is what a practice was worth, and what is to be said of it.
type Report struct {
	Lesson       Lesson
	Passed       bool
	Done         []Mark // done well
	Missing      []Mark // asked for by the lesson and not done
	Harm         []Mark // would have hurt somebody
	Verdict      model.Verdict
	Begun        bool
	Mishaps      []pot.Mishap // what went wrong
	Opened       bool         // the cycle went as far as the open lid, so that the readings can say something
	HoldBegan    bool
	Held, Asked  float64 // min
	F0, F0Pack   float64 // true minutes at 121.1 degC: chamber, inside the packs
	Air, PackAir float64 // shares when the hold began
	WaterKg      float64
	Minutes      float64
}

// Over says that the lesson has come to its end.
func (s *Session) Over() bool {
	c, ok := s.Under()
	if s.notes.doubted || s.notes.leftSafely || (s.gone && s.notes.leftAlone) {
		return true
	}
	if !ok {
		return false
	}
	if c.Closed != nil || s.notes.dry || s.notes.openedUnder {
		return true
	}
	has := func(code model.StepCode) bool { _, ok := c.Step(code); return ok }
	switch s.Lesson.Until {
	case UntilVented:
		return has(model.StepVentEnd)
	case UntilHeld:
		r, err := s.Desk.Judge(c)
		return err == nil && r.Running >= 8
	case UntilDrawn:
		return has(model.StepFireDrawn)
	}
	return has(model.StepOpened)
}

// Grade says what was done well and what would have hurt somebody.
func (s *Session) Grade() (Report, error) {
	s.Tick()
	n, st := s.notes, s.Scene.Pot.State()
	r := Report{Lesson: s.Lesson, F0: st.F0, F0Pack: st.F0In, Air: n.airAtHold, PackAir: n.packAir, WaterKg: st.Water, Minutes: s.Scene.Minutes}
	for _, m := range s.Lesson.Mishaps {
		if !pot.Strikes(m) || s.Scene.Struck(m) {
			r.Mishaps = append(r.Mishaps, m)
		}
	}
	r.HoldBegan = n.holdBegan
	c, begun := s.Under()
	shown := false
	if r.Begun = begun; begun {
		j, err := s.Desk.Judge(c)
		if err != nil {
			return r, err
		}
		r.Verdict, r.Held, r.Asked = j.Verdict, j.Held, j.Asked
		shown = j.Held >= j.Asked-1e-9
		_, r.Opened = c.Step(model.StepOpened)
	}
	vent := float64(model.Rules(nil).Value(model.PolicyVent))
	onTime := begun && n.oaths > 0
	for _, x := range c.Breaks {
		onTime = onTime && !x.Unproven
	}
	for i := 1; i < len(c.Readings); i++ {
		onTime = onTime && c.Readings[i].At-c.Readings[i-1].At <= c.Begun.Plan.GapMinutes*60000
	}
	corrected := false
	if p, err := s.Desk.Place(); err == nil && slices.Contains(s.Lesson.Mishaps, pot.WrongCard) {
		corrected = abs(p.Site.HeightM-s.trueM) <= 100 && begun && abs(c.Begun.Plan.HeightM-s.trueM) <= 100
	}
	died := s.Scene.Struck(pot.FireDies)
	for mark, done := range map[Mark]bool{
		SteadySteam: n.ventSaid && n.steadyAtVent, VentedFully: n.ventSaid && n.steadyAtVent && n.streaming >= vent-0.2,
		StayedUnder: begun && n.holdBegan && !n.over && n.hot >= 7, HeldShown: shown && n.falseOaths == 0 && n.untrue == 0 && n.hot >= r.Asked-2, LooksOnTime: onTime, OathsTrue: n.oaths > 0 && n.falseOaths == 0 && n.untrue == 0,
		ZeroFirst: n.zeroTold && !n.openedUnder, WaterKept: begun && !n.dry, BadGauge: s.offZero() && n.doubted && !s.everLit(c, begun),
		LeftSafely: n.leftSafely && !n.leftAlone, CardChecked: corrected, AirOut: n.airOut(),
		FireMinded: died && (n.fireTold || c.Aborted() || (shown && n.falseOaths == 0 && n.hot >= r.Asked-2)), // told, given up, or saved in time
	} {
		if done {
			r.Done = append(r.Done, mark)
		}
	}
	r.Harm = s.harm(c, r, shown)
	for _, m := range s.Lesson.Good {
		if !slices.Contains(r.Done, m) {
			r.Missing = append(r.Missing, m)
		}
	}
	slices.Sort(r.Done)
	r.Passed = len(r.Missing) == 0 && len(r.Harm) == 0 && s.Lesson.Code != "" && s.Over()
	return r, nil
}

func (s *Session) harm(c register.Cycle, r Report, shown bool) (out []Mark) {
	n := s.notes
	good := r.Verdict == model.Shown || (shown && r.Verdict != model.Failed)
	for _, x := range []struct {
		mark Mark
		is   bool
	}{
		{OpenedUnder, n.openedUnder}, {BoiledDry, n.dry}, {OverLimit, n.over}, {LeftAlone, n.leftAlone},
		{AirInside, n.holdBegan && n.airAtHold > 0.05}, {FalseOath, n.falseOaths > 0 || n.untrue > 0}, {RestUntrue, n.restUntrue},
		{SplutterTaken, n.ventSaid && !n.steadyAtVent}, {WouldTrust, good && !c.Aborted() && s.ended(c) && r.F0Pack < 12},
	} {
		if x.is {
			out = append(out, x.mark)
		}
	}
	return out
}

// ended says that the hold is over, so that its worth can be told.
func (s *Session) ended(c register.Cycle) bool {
	_, ok := c.Step(model.StepFireDrawn)
	return ok
}

func (s *Session) offZero() bool { return slices.Contains(s.Lesson.Mishaps, pot.GaugeOffZero) }

// everLit says whether the fire was lit in a cycle.
func (s *Session) everLit(c register.Cycle, begun bool) bool {
	if !begun {
		return s.Scene.Fire.Burnt > 0.05
	}
	_, lit := c.Step(model.StepLit)
	return lit || s.Scene.Fire.Burnt > 0.05
}

func abs(v int64) int64 { return max(v, -v) }
