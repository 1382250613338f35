package practice

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/steam"
	"mvuke/steam/pot"
)

// Setup is a simulated cycle: what was told of place, pot and gauge, and what is true of them.
type Setup struct {
	Seed    uint64
	Site    steam.Site     // as told
	Air     steam.Absolute // the pressure that there really is; 0: as told
	Gauge   steam.Gauge    // as told
	Dial    *pot.Dial      // as it is; nil: drawn within the told class
	Limit   steam.Over
	Body    *pot.Body // nil: the reference pot
	WaterKg float64   // 0: 2.6
	Fuel    pot.Fuel  // zero: wood
	Hand    pot.Hand
	Mishaps []pot.Mishap
	Item    model.Item
	Rules   model.Policies // nil: the defaults
}

// Simulated is the log of a simulated cycle, with its plan and its truth.
type Simulated struct {
	Planned  work.Planned
	Readings []model.Reading
	Steps    []model.Step
	Rest     int64 // needle at rest before, thousandths
	Outcome  pot.Outcome
	Honest   bool // no answer was sworn without watching while the needle was down
}

// wrongHeight is the share of the true height that a wrong card is for: metres taken for feet.
const wrongHeight = steam.Metres(steam.FeetToMetres)

// NoPlan says that there is no mark for that pot at that place, so nobody would light it.
type NoPlan struct{ Code string }

func (e *NoPlan) Error() string {
	return fmt.Sprintf("there is no mark for this pot at this place (%s), so no cycle can be practised; choose another altitude or dial", e.Code)
}

// Simulate plans and burns one cycle. The same setup gives the same log.
func Simulate(s Setup) (Simulated, error) {
	air, err := s.Site.Air()
	if err != nil {
		return Simulated{}, err
	}
	if slices.Contains(s.Mishaps, pot.WrongCard) {
		if s.Air == 0 {
			s.Air = air.Nominal
		}
		s.Site.Height *= wrongHeight
		if air, err = s.Site.Air(); err != nil {
			return Simulated{}, err
		}
	}
	if s.Rules == nil {
		s.Rules = model.Rules(nil)
	}
	if s.Item == "" {
		s.Item = model.Wrapped
	}
	planned, err := work.MakePlan(s.Gauge, air, s.Limit, s.Item, s.Rules, int64(s.Site.Height))
	if err != nil {
		return Simulated{}, err
	}
	if planned.Plan.Refused != nil {
		return Simulated{}, &NoPlan{planned.Plan.Refused.Code}
	}
	t := s.trial(planned, air)
	out := Simulated{Planned: planned, Rest: model.MilliDown(t.Dial.ReadRest()), Honest: true}
	if out.Outcome, err = pot.Run(t); err != nil {
		return out, err
	}
	out.log(planned.Frozen)
	return out, nil
}

func (s Setup) trial(p work.Planned, air steam.Ambient) pot.Trial {
	rng := rand.New(rand.NewPCG(s.Seed, 7))
	b := pot.Reference()
	if s.Body != nil {
		b = *s.Body
	}
	if b.Ambient = s.Air; s.Air == 0 {
		b.Ambient = air.Nominal
	}
	if s.Limit > 0 {
		b.ReliefAt = s.Limit
	}
	d := pot.Faulty(s.Gauge.Unit, s.Gauge.Span, s.Gauge.Line, s.Gauge.CountedClass(), rng)
	if s.Dial != nil {
		d = *s.Dial
	}
	if s.WaterKg == 0 {
		s.WaterKg = 2.6
	}
	if s.Fuel == (pot.Fuel{}) {
		s.Fuel = pot.Wood
		s.Fuel.Efficiency = pot.Range{Low: 0.2, High: 0.3} // a shielded stove
	}
	return pot.Trial{Seed: s.Seed, Body: b, Start: pot.Start{T: 22, Water: s.WaterKg, Air: true}, Fuel: s.Fuel, Wood: 1.5, Dial: d,
		Mark: p.Plan.Mark, Restart: p.Plan.Restart, Limit: p.Plan.Limit, Minutes: float64(p.Plan.Minutes), Vent: float64(p.Frozen.VentMinutes),
		Hand: s.Hand, Mishaps: s.Mishaps, Set: assess.Set}
}

var stepOf = map[string]model.StepCode{pot.Lit: model.StepLit, pot.VentStart: model.StepVentStart, pot.VentEnd: model.StepVentEnd,
	pot.Fed: model.StepFed, pot.Tamed: model.StepTamed, pot.Low: model.StepFireLow, pot.Drawn: model.StepFireDrawn,
	pot.SteamOut: model.StepSteamOut, pot.Zero: model.StepZero, pot.Opened: model.StepOpened}

var answerOf = map[pot.Answer]model.Answer{pot.None: model.NoAnswer, pot.Stayed: model.Stayed, pot.Dipped: model.Dipped, pot.Away: model.LookedAway}

// log writes down what the hand wrote down, as the register would hold it.
func (s *Simulated) log(f model.FrozenPlan) {
	ms := func(minute float64) int64 { return int64(minute * 60000) }
	for _, e := range s.Outcome.Events {
		x := model.Step{Code: stepOf[e.Code], At: ms(e.Minute), Source: model.Live}
		if e.Needle != nil {
			x.NeedleMilli, x.HasNeedle = model.MilliDown(*e.Needle), true
		}
		s.Steps = append(s.Steps, x)
	}
	for _, l := range s.Outcome.Looks {
		r := model.Reading{At: ms(l.Minute), NeedleMilli: model.MilliDown(l.Needle), Answer: answerOf[l.Answer]}
		if l.Answer == pot.Dipped {
			r.LowestMilli = model.MilliDown(min(l.Lowest, l.Needle))
		}
		if l.Answer == pot.Stayed && r.NeedleMilli < f.RestartMilli {
			r.Answer = model.NoAnswer // the window does not take that oath
		}
		s.Readings = append(s.Readings, r)
		s.Honest = s.Honest && l.Honest
	}
}

// Input is what a judgement of the cycle rests on.
func (s Simulated) Input() assess.Input {
	rest := s.Rest
	return assess.Input{Plan: s.Planned.Frozen, Item: s.Planned.Item, Readings: s.Readings, Steps: s.Steps, Rest: &rest}
}
