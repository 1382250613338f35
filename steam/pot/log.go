package pot

import "mvuke/steam"

// Log is what a person would write down of a cycle, with what was true beside it.
type Log struct {
	Events []Event
	Looks  []Look
	Truth  []Truth // each minute
}

// Event is a step by its name in a log file.
type Event struct {
	Minute float64
	Code   string
	Needle *float64 // seen with it
}

// The events of a cycle, as a log file names them.
const (
	Lit       = "lit"
	VentStart = "vent-start"
	VentEnd   = "vent-end"
	Fed       = "fire-fed"
	Tamed     = "fire-tamed"
	Low       = "fire-low"
	Drawn     = "fire-drawn"
	SteamOut  = "steam-out"
	Zero      = "zero"
	Opened    = "open"
)

// Answer is what is said of the time since the look before.
type Answer string

// Answers.
const (
	None   Answer = ""
	Stayed Answer = "stayed"
	Dipped Answer = "dipped"
	Away   Answer = "away"
)

// Look is one look at the needle.
type Look struct {
	Minute float64
	Needle float64
	Answer Answer
	Lowest float64       // where Dipped
	Honest bool          // the answer was what a person could know
	F0     float64       // truth: minutes at 121.1 degC in the chamber until now
	True   steam.Celsius // truth: of the chamber
}

// Truth is what no person at the pot can see.
type Truth struct {
	Minute        float64
	Chamber, Pack steam.Celsius
	Over          steam.Over
	Air, PackAir  float64
	Water         float64
	Heat          float64
}

// Outcome is how a simulated cycle ended, and what it was worth in truth.
type Outcome struct {
	Log
	F0, F0Pack float64 // minutes at 121.1 degC, z = 10 K, whole cycle
	AirAtHold  float64 // share of air in the chamber when the hold began
	PackAir    float64 // inside the packs at that moment
	PackMax    steam.Celsius
	Dry        bool
	Reached    bool // the hold was begun
	Finished   bool // the person believed that it was done
	WaterLeft  float64
	Burnt      float64
	Minutes    float64
}
