package pot

// Mishap is something that goes wrong in practice.
type Mishap string

// The mishaps.
const (
	WetWoodGiven Mishap = "wet-wood"    // the wood is wet
	GaugeStuck   Mishap = "gauge-stuck" // the needle hangs in the middle of the hold
	GaugeOffZero Mishap = "gauge-zero"  // the needle does not rest on zero
	WrongCard    Mishap = "wrong-card"  // the card on the wall is for another altitude (the plan is the caller's)
	ValveShut    Mishap = "valve-shut"  // somebody shut the air valve too early
	Splutter     Mishap = "splutter"    // spluttering is taken for steady steam (the hand's own mistake)
	FireDies     Mishap = "fire-dies"   // the fire dies at minute 14 of the hold
	WaterLow     Mishap = "water-low"   // there is less water in the pot than was said
	CalledAway   Mishap = "called-away" // called to somebody for nine minutes
)

// Mishaps are all of them, in order.
var Mishaps = []Mishap{WetWoodGiven, GaugeStuck, GaugeOffZero, WrongCard, ValveShut, Splutter, FireDies, WaterLow, CalledAway}

// Strikes says that a mishap happens in the course of a cycle; the others are there from the start.
func Strikes(m Mishap) bool {
	switch m {
	case ValveShut, FireDies, GaugeStuck, CalledAway:
		return true
	}
	return false
}

// When mishaps strike.
const (
	diesAtMinute  = 14.0 // of the hold
	shutAtMinute  = 3.0  // of the vent
	stuckAtMinute = 4.0  // of the hold
	awayAtMinute  = 9.0  // of the hold
	AwayMinutes   = 9.0
	lowWater      = 1.1 // kg left out
)
