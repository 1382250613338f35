package model

// HeightHow says how a site's altitude is known.
type HeightHow string

// Ways of knowing.
const (
	ByMap       HeightHow = "map"
	BySurvey    HeightHow = "survey"
	ByBarometer HeightHow = "barometer"
	ByBoiling   HeightHow = "boiling"
)

// Site is a clinic.
type Site struct {
	Name            string    `cbor:"1,keyasint"`
	HeightM         int64     `cbor:"2,keyasint"`
	How             HeightHow `cbor:"3,keyasint"`
	WithinM         int64     `cbor:"4,keyasint"`
	WeatherPermille int64     `cbor:"5,keyasint"`
	Language        string    `cbor:"6,keyasint"`
	Calendar        string    `cbor:"7,keyasint,omitempty"`
	BoilingMilli    int64     `cbor:"8,keyasint,omitempty"` // degC seen in the open pot, thousandths

	RaisedPa int64 `cbor:"9,keyasint,omitempty"` // where this states a need above that of what it replaces: plans that asked for less are in doubt
}

// Sterilizer is a pot.
type Sterilizer struct {
	Name         string `cbor:"1,keyasint"`
	Site         ID     `cbor:"2,keyasint"`
	Gauge        ID     `cbor:"3,keyasint"`
	LimitPa      int64  `cbor:"4,keyasint"` // its own maximum, from its plate
	ValvePa      int64  `cbor:"5,keyasint"` // safety valve: as found at the last lift, else its plate
	LeastWaterML int64  `cbor:"6,keyasint"`

	Screwed bool        `cbor:"7,keyasint,omitempty"` // it says which gauge is on it now: what was lit by another, without knowing of this, is in doubt
	Knew    []KnownUpTo `cbor:"8,keyasint,omitempty"` // of that: the loads lit before it, as far as they were known and as it was surely not on
	Since   int64       `cbor:"9,keyasint,omitempty"` // of that: wall ms from which on it was the one; 0: when it is told
}

// GaugeLooks is a gauge as its face and plate tell.
type GaugeLooks struct {
	Serial     string `cbor:"1,keyasint"`
	Unit       string `cbor:"2,keyasint"`
	SpanMilli  int64  `cbor:"3,keyasint"`
	LineMilli  int64  `cbor:"4,keyasint"`
	ClassMilli int64  `cbor:"5,keyasint"` // thousandths of a per cent; -1 unknown

	OverPa int64 `cbor:"6,keyasint,omitempty"` // put right: by how much more, at the end of its scale, it was said to show than it does; Pa, rounded up. Loads planned by what was said are in doubt
}

// Compared is a gauge beside a reference, done cold, at one point or two.
type Compared struct {
	Points         []FrozenCorrection `cbor:"1,keyasint"`
	ReferenceMilli int64              `cbor:"2,keyasint"`           // error of the reference, in the dial's unit
	At             int64              `cbor:"3,keyasint"`           // wall ms
	Reference      ID                 `cbor:"4,keyasint,omitempty"` // the instrument; zero: of old records
	Gauge          *GaugeLooks        `cbor:"5,keyasint,omitempty"` // the dial as it was described then: another dial voids it

	WorstPa int64       `cbor:"6,keyasint,omitempty"` // most that it was found to show too much, with what the reference may err; Pa, rounded up. 0: of old records
	Knew    []KnownUpTo `cbor:"7,keyasint,omitempty"` // how far each stream that lit the pot was known: loads that lie before the next comparison's window
	Since   []KnownUpTo `cbor:"8,keyasint,omitempty"` // the same of the comparison before this one: what it covers is not in doubt by this one

	Withdraws []byte `cbor:"9,keyasint,omitempty"`  // the comparison that this entry takes back; then it is none itself, and has no figures
	Reason    string `cbor:"10,keyasint,omitempty"` // why it is taken back
	Restates  []byte `cbor:"11,keyasint,omitempty"` // the comparison whose figures these are, with what its reference was found to be off
}

// Role is what a person may do here.
type Role string

// Roles.
const (
	RoleRecorder Role = "recorder"
	RoleReleaser Role = "releaser"
	RoleInCharge Role = "in-charge"
	RoleOfficer  Role = "officer"
)

// Person is somebody who acts. Testimony, not proof: a device signs.
type Person struct {
	Name     string `cbor:"1,keyasint"`
	Roles    []Role `cbor:"2,keyasint"`
	Language string `cbor:"3,keyasint"`
	PIN      []byte `cbor:"4,keyasint,omitempty"` // 16 bytes of salt and a hash; for attribution, not a lock
}

// May says whether one of the roles allows an act.
func (p Person) May(r Role) bool {
	for _, have := range p.Roles {
		if have == r || have == RoleInCharge || have == RoleOfficer {
			return true
		}
	}
	return false
}

// PersonGone takes a person off the tiles; the name stays on old acts.
type PersonGone struct {
	Reason string `cbor:"1,keyasint"`
}

// ClockSet is what a person says the date is, in answer to the program's question.
type ClockSet struct {
	Was     int64 `cbor:"1,keyasint"`           // device wall, ms
	Is      int64 `cbor:"2,keyasint"`           // said, ms
	Known   bool  `cbor:"3,keyasint"`           // false: "I do not know"
	FromSeq int64 `cbor:"4,keyasint,omitempty"` // first entry of this stream that the correction covers
}

// CardMade numbers a wall card.
type CardMade struct {
	Number     int64      `cbor:"1,keyasint"`
	Sterilizer ID         `cbor:"2,keyasint"`
	Plan       FrozenPlan `cbor:"3,keyasint"`
	VoidAfter  int64      `cbor:"4,keyasint"`
	Item       Item       `cbor:"5,keyasint"`
}

// Restored says that the register was brought back from a backup.
type Restored struct {
	OldStream  []byte `cbor:"1,keyasint"`
	LastSeq    int64  `cbor:"2,keyasint"`
	WitnessSeq int64  `cbor:"3,keyasint"`
}

// LookedInto says that somebody in charge saw to a warning, such as that records are missing here, and what was done. It opens nothing.
type LookedInto struct {
	Reason string `cbor:"1,keyasint"`
}

// StockOut is a day on which a consumable was missing.
type StockOut struct {
	What string `cbor:"1,keyasint"`
}

// Lesson is one lesson passed on the practice pot by the person that it targets. It opens nothing.
type Lesson struct {
	Code string `cbor:"1,keyasint"`
	Seed int64  `cbor:"2,keyasint"` // of the practice pot, to see it again
}

// SignedOff says that a supervisor saw the person work and lets them act alone. Testimony; it opens nothing.
type SignedOff struct {
	Lessons int64 `cbor:"1,keyasint"` // passed when it was said
}

// Reference is the officer's reference gauge: an instrument of its own, on which all comparisons hang.
type Reference struct {
	Name        string `cbor:"1,keyasint"`
	Unit        string `cbor:"2,keyasint"`
	ErrorMilli  int64  `cbor:"3,keyasint"` // how far it may be off, thousandths of its unit
	Certificate string `cbor:"4,keyasint"`
	Due         int64  `cbor:"5,keyasint"` // wall, ms: its own check is due

	OffPa    int64    `cbor:"6,keyasint,omitempty"` // it failed that check: it showed so much too much, Pa, rounded up
	Restated [][]byte `cbor:"7,keyasint,omitempty"` // of that: the comparisons that were stated anew with it; every other one is off by it
	Written  bool     `cbor:"8,keyasint,omitempty"` // of that: it failed no check, its error was written too low by so much
}

// ValveTest is the safety valve lifted on purpose, or not lifting.
type ValveTest struct {
	Lifted  bool  `cbor:"1,keyasint"`
	FoundPa int64 `cbor:"2,keyasint,omitempty"` // overpressure at which it lifted
	At      int64 `cbor:"3,keyasint"`
}
