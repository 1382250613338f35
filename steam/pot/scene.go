package pot

import (
	"math/rand/v2"
	"slices"

	"mvuke/steam"
)

// Scene is a pot on its fire with a dial, for practice: what a person can touch and see, and what is true.
type Scene struct {
	Pot     *Pot
	Fire    *Fire
	Dial    Dial
	Opening float64 // air valve, 0 shut to 1 open
	Minutes float64 // since the start
	Lid     bool

	mishaps []Mishap
	away    float64 // minute at which the person comes back; 0: is here
	venting float64 // minute at which steady steam began to stream; 0: not
	holding float64 // minute at which the set temperature was first reached; 0: not
	set     steam.Celsius
	peak    steam.Over
	lowest  float64 // lowest needle since it was last asked
	struck  map[Mishap]bool
}

// SceneOf puts a filled pot on a fire. set is the temperature that the hold is for.
func SceneOf(p *Pot, f *Fire, d Dial, set steam.Celsius, mishaps []Mishap) *Scene {
	s := &Scene{Pot: p, Fire: f, Dial: d, Opening: 1, Lid: true, mishaps: mishaps, set: set, struck: map[Mishap]bool{}}
	s.lowest = s.Needle()
	return s
}

// Prepare changes body, water, fuel and dial for the mishaps that are there from the start.
func Prepare(b *Body, start *Start, fuel *Fuel, d *Dial, mishaps []Mishap, rng *rand.Rand) {
	for _, m := range mishaps {
		switch m {
		case WetWoodGiven:
			*fuel = WetWood
		case WaterLow:
			start.Water = max(start.Water-lowWater, 0.9)
		case GaugeOffZero:
			d.Zero += d.Span * (0.06 + 0.04*rng.Float64())
		}
	}
}

// Needle is where the needle stands now.
func (s *Scene) Needle() float64 { return s.Dial.Needle(s.Pot.State().Over) }

// Away says whether the person is called away.
func (s *Scene) Away() bool { return s.Minutes < s.away }

// Lowest is the lowest needle since it was last asked.
func (s *Scene) Lowest() float64 {
	low := s.lowest
	s.lowest = s.Needle()
	return low
}

// beat is the time between two looks of the scene at its own hands, s.
const beat = 1.0

// Pass lets seconds go by.
func (s *Scene) Pass(seconds float64) {
	for left := seconds; left > 1e-9; left -= beat {
		dt := min(beat, left)
		s.Pot.Hands = Hands{Valve: s.Opening, Fire: s.Fire.Burn(dt)}
		if s.Lid {
			s.Pot.Advance(dt)
		}
		s.Minutes += dt / 60
		st := s.Pot.State()
		s.lowest = min(s.lowest, s.Dial.Needle(st.Over))
		s.peak = max(s.peak, st.Over)
		s.follow(st)
	}
}

// follow notes where the cycle is, and lets mishaps strike.
func (s *Scene) follow(st State) {
	if s.venting == 0 && s.jet(st) == JetSteady {
		s.venting = s.Minutes
	}
	if s.holding == 0 && st.T >= s.set {
		s.holding = s.Minutes
	}
	s.strike(ValveShut, s.venting, shutAtMinute, func() { s.Opening = 0 })
	s.strike(FireDies, s.holding, diesAtMinute, func() { s.Fire.Die() })
	s.strike(GaugeStuck, s.holding, stuckAtMinute, func() { n := s.Dial.Needle(st.Over); s.Dial.Stuck = &n })
	s.strike(CalledAway, s.holding, awayAtMinute, func() { s.away = s.Minutes + AwayMinutes })
}

func (s *Scene) strike(m Mishap, from, after float64, do func()) {
	if from == 0 || s.Minutes < from+after || s.struck[m] || !slices.Contains(s.mishaps, m) {
		return
	}
	s.struck[m] = true
	do()
}

// Struck says whether a mishap has happened.
func (s *Scene) Struck(m Mishap) bool { return s.struck[m] }

// Jet is what a person sees at the air valve.
type Jet string

// Jets.
const (
	JetNone     Jet = "none"
	JetSplutter Jet = "splutter" // air and drops come with it: not yet
	JetSteady   Jet = "steady"
)

// spluttering is the share of air above which the jet splutters, and least the steam below which it is none.
const (
	spluttering = 0.02
	leastJet    = 0.00012 // kg/s
)

// Jet is what comes out of the air valve now.
func (s *Scene) Jet() Jet { return s.jet(s.Pot.State()) }

func (s *Scene) jet(st State) Jet {
	switch {
	case s.Opening == 0 || st.Out < leastJet:
		return JetNone
	case st.Air > spluttering:
		return JetSplutter
	}
	return JetSteady
}

// Peak is the highest overpressure so far.
func (s *Scene) Peak() steam.Over { return s.peak }
