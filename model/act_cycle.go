package model

// Item is what lies in the load, as far as the hold time asks.
type Item string

// Items.
const (
	Wrapped   Item = "wrapped"
	Unwrapped Item = "unwrapped" // for immediate use only; never on the shelf
)

// CycleBegun is a cycle's first entry: the load and the plan, frozen.
type CycleBegun struct {
	Number     int64      `cbor:"1,keyasint"`
	Sterilizer ID         `cbor:"2,keyasint"`
	Gauge      ID         `cbor:"3,keyasint"`
	Item       Item       `cbor:"4,keyasint"`
	Packs      []LoadPack `cbor:"5,keyasint"`
	TestPack   bool       `cbor:"6,keyasint"`
	WaterML    int64      `cbor:"7,keyasint"`
	Fuel       string     `cbor:"8,keyasint"`
	RestMilli  int64      `cbor:"9,keyasint"` // needle at rest, thousandths of the dial's unit
	Plan       FrozenPlan `cbor:"10,keyasint"`
	After      [][]byte   `cbor:"11,keyasint"` // ids of the latest cycles of this sterilizer known here
	Source     Source     `cbor:"12,keyasint"`
	Begun      int64      `cbor:"13,keyasint"` // wall, ms; as on paper for a slip typed in
	Practice   bool       `cbor:"14,keyasint,omitempty"`
}

// LoadPack is a pack as it went in: what is written on it.
type LoadPack struct {
	ID      ID     `cbor:"1,keyasint"`
	Label   string `cbor:"2,keyasint"`
	Set     string `cbor:"3,keyasint"`
	Tape    bool   `cbor:"4,keyasint"` // closed with indicator tape
	Strip   bool   `cbor:"5,keyasint"` // strip inside
	Present int64  `cbor:"6,keyasint,omitempty"`
	Listed  int64  `cbor:"7,keyasint,omitempty"`
	Counted bool   `cbor:"8,keyasint,omitempty"` // a missing piece was counted at the end of the procedure
}

// FrozenPlan is a plan of a cycle as it stood before lighting; judging uses it, live
// and ever after.
type FrozenPlan struct {
	Unit         string             `cbor:"1,keyasint"`
	SpanMilli    int64              `cbor:"2,keyasint"`
	LineMilli    int64              `cbor:"3,keyasint"`
	ClassMilli   int64              `cbor:"4,keyasint"` // counted class; thousandths of a per cent
	ErrorPa      int64              `cbor:"5,keyasint"` // of a reading, rounded up
	ReadingPa    int64              `cbor:"6,keyasint"` // half a line, rounded up
	OffsetPa     int64              `cbor:"7,keyasint"` // what the dial shows at rest by its print
	NominalPa    int64              `cbor:"8,keyasint"`
	LowPa        int64              `cbor:"9,keyasint"`
	HighPa       int64              `cbor:"10,keyasint"`
	NeedPa       int64              `cbor:"11,keyasint"` // rounded up
	RestartMilli int64              `cbor:"12,keyasint"`
	MarkMilli    int64              `cbor:"13,keyasint"`
	LimitMilli   int64              `cbor:"14,keyasint"` // 0: not known
	Minutes      int64              `cbor:"15,keyasint"`
	VentMinutes  int64              `cbor:"16,keyasint"`
	GapMinutes   int64              `cbor:"17,keyasint"` // reading limit
	DoseMilli    int64              `cbor:"18,keyasint"` // guaranteed dose asked for, thousandths of a minute
	Standing     string             `cbor:"19,keyasint"`
	HeightM      int64              `cbor:"20,keyasint"`
	Policy       []string           `cbor:"21,keyasint"` // codes of the policies it rests on
	Corrections  []FrozenCorrection `cbor:"22,keyasint,omitempty"`
	CountedPa    int64              `cbor:"23,keyasint,omitempty"` // most that the gauge may show too much by what the plan allows for, rounded down; 0: of old records, ErrorPa
}

// FrozenCorrection is one point of the gauge's comparison.
type FrozenCorrection struct {
	AtMilli    int64 `cbor:"1,keyasint"`
	ErrorMilli int64 `cbor:"2,keyasint"`
}

// Source says how a record came in.
type Source string

// Sources.
const (
	Live      Source = "live"
	FromPaper Source = "paper"
)

// StepCode names a step of a cycle.
type StepCode string

// The steps, in their order.
const (
	StepLoaded    StepCode = "loaded"
	StepLidShut   StepCode = "lid-shut"
	StepLit       StepCode = "lit"
	StepVentStart StepCode = "vent-start"
	StepVentEnd   StepCode = "vent-end"
	StepFireLow   StepCode = "fire-low"
	StepFed       StepCode = "fire-fed"
	StepTamed     StepCode = "fire-tamed"  // draught closed
	StepBlowing   StepCode = "valve-blows" // the safety valve
	StepFireDrawn StepCode = "fire-drawn"
	StepSteamOut  StepCode = "steam-out"
	StepZero      StepCode = "zero" // needle on zero and no more steam
	StepOpened    StepCode = "opened"
	StepDried     StepCode = "dried"
	StepCooled    StepCode = "cooled"
	StepAway      StepCode = "away"
	StepLeft      StepCode = "left" // fire drawn, air valve opened, left alone
)

// Step is one step taken. At counts milliseconds from the cycle's first entry.
type Step struct {
	Code        StepCode `cbor:"1,keyasint"`
	At          int64    `cbor:"2,keyasint"`
	Source      Source   `cbor:"3,keyasint"`
	NeedleMilli int64    `cbor:"4,keyasint,omitempty"` // needle seen with the step, where HasNeedle
	HasNeedle   bool     `cbor:"5,keyasint,omitempty"`
	Unproven    bool     `cbor:"6,keyasint,omitempty"` // the clock between was not running (restart)
}

// Answer is what the person says of the time since the look before.
type Answer string

// The three equal answers, and none (the first look).
const (
	Stayed     Answer = "stayed"
	Dipped     Answer = "dipped"
	LookedAway Answer = "away"
	NoAnswer   Answer = ""
)

// Reading is one look at the needle.
type Reading struct {
	At          int64  `cbor:"1,keyasint"` // ms from the cycle's first entry
	NeedleMilli int64  `cbor:"2,keyasint"`
	Answer      Answer `cbor:"3,keyasint"`
	LowestMilli int64  `cbor:"4,keyasint,omitempty"` // where Dipped
	Unproven    bool   `cbor:"5,keyasint,omitempty"`
	ThermoMilli int64  `cbor:"6,keyasint,omitempty"` // added thermometer, milli-degC; 0: none
	Away        bool   `cbor:"7,keyasint,omitempty"` // looked away, yet a lowest is told: it can break a hold, it swears to nothing
}

// Readings are signed together, with their step or every five minutes.
type Readings struct {
	Source Source    `cbor:"1,keyasint"`
	List   []Reading `cbor:"2,keyasint"`
}

// Outcome is how a cycle ended.
type Outcome string

// Outcomes.
const (
	RanThrough Outcome = "ran"
	Aborted    Outcome = "aborted"
)

// CycleClosed ends a cycle: nothing is lit any more.
type CycleClosed struct {
	Outcome     Outcome `cbor:"1,keyasint"`
	Reason      string  `cbor:"2,keyasint"`
	At          int64   `cbor:"3,keyasint"`
	ReachedMark bool    `cbor:"4,keyasint"`
	WaterLeftML int64   `cbor:"5,keyasint,omitempty"`
	BoiledDry   bool    `cbor:"6,keyasint,omitempty"`
}

// Interrupted marks a time in a cycle when the device was off or asleep.
type Interrupted struct {
	From     int64 `cbor:"1,keyasint"`
	To       int64 `cbor:"2,keyasint"`
	Unproven bool  `cbor:"3,keyasint,omitempty"` // another run of the machine: how long it was, no clock can prove
}
