package practice

import (
	"time"

	"mvuke/steam/pot"
)

// What a person can touch at the practice pot.

const minuteLong = time.Minute

// Light puts the first wood on and lights it.
func (s *Session) Light() { s.Scene.Fire.Feed(1.5) }

// Lit says whether there is anything burning.
func (s *Session) Lit() bool { return s.Scene.Fire.Bed+s.Scene.Fire.Fresh > 0.05 }

// Feed puts a log on.
func (s *Session) Feed() { s.Scene.Fire.Feed(0.35) }

// Flaps are the places of the draught flap, from shut to open.
var Flaps = []float64{0, 0.2, 0.45, 1}

// Flap sets the draught.
func (s *Session) Flap(place int) { s.Scene.Fire.Draught = Flaps[place] }

// Draw takes the fire away.
func (s *Session) Draw() { s.Scene.Fire.Draw() }

// Valves are the places of the air valve: shut, a little open, open.
var Valves = []float64{0, 0.122, 1}

// Valve sets the air valve.
func (s *Session) Valve(place int) { s.Scene.Opening = Valves[place] }

// OpenLid takes the lid off, whatever the pressure is.
func (s *Session) OpenLid() {
	if s.LidOn && s.Scene.Pot.State().Over > hurting {
		s.notes.openedUnder = true
	}
	s.LidOn, s.Scene.Lid = false, false
}

// hurting is the overpressure at which a lid that comes off scalds, Pa: 300 N on a lid of 0.1 m2.
const hurting = 3000

// Doubt says that this gauge is not to be believed and the pot is not lit: the lesson ends.
func (s *Session) Doubt() { s.notes.doubted = true }

// HeightM is the height that there really is, m.
func (s *Session) HeightM() int64 { return s.trueM }

// Pour puts half a litre of water in, as long as the pot is cold; the code of the sentence says what came of it.
func (s *Session) Pour() string {
	if s.Lit() || s.Scene.Pot.State().T > 40 {
		return "caution.dry"
	}
	start := s.start
	start.Water += 0.5
	p, err := pot.New(s.Scene.Pot.Body, start)
	if err != nil {
		return "learn.full"
	}
	s.start, s.Scene.Pot = start, p
	return "learn.poured"
}
