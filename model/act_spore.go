package model

// SporePlaced is a spore test laid into a load, with a control of the same lot that stays outside.
type SporePlaced struct {
	Cycle   ID     `cbor:"1,keyasint"`
	Pot     ID     `cbor:"2,keyasint"`
	Lot     string `cbor:"3,keyasint"`
	Expires int64  `cbor:"4,keyasint"` // wall, ms: last day of the lot
	Control bool   `cbor:"5,keyasint"` // a control of the same lot goes with it
	SentTo  string `cbor:"6,keyasint,omitempty"`
	At      int64  `cbor:"7,keyasint"`
}

// SporeRead is what was read after incubation.
type SporeRead struct {
	Grew        bool  `cbor:"1,keyasint"` // spores of the test grew: the load was not sterilized
	ControlGrew bool  `cbor:"2,keyasint"` // the control must grow, or the test says nothing
	Hours       int64 `cbor:"3,keyasint"` // of incubation
	Degrees     int64 `cbor:"4,keyasint"` // degC
	At          int64 `cbor:"5,keyasint"`
}

// SporeSaid is the result of a spore test. A void one is no result: it resets no due date and frees nothing.
type SporeSaid string

// Results.
const (
	SporeWaiting  SporeSaid = "waiting"
	SporeNegative SporeSaid = "negative"
	SporePositive SporeSaid = "positive"
	SporeVoid     SporeSaid = "void"
)

// Incubation that a negative needs (self-contained vials, secondary source; temperature from memory).
const (
	LeastIncubation  = 24 // hours
	CoolestIncubator = 55 // degC
	HottestIncubator = 62
)

// Says judges a reading. Growth is never void.
func (p SporePlaced) Says(r SporeRead) SporeSaid {
	switch {
	case r.Grew:
		return SporePositive
	case r.At-p.At < (r.Hours-1)*3_600_000: // claimed longer than the time since it was laid in
		return SporeVoid
	case !p.Control, !r.ControlGrew, p.At > p.Expires, r.Hours < LeastIncubation, r.Degrees < CoolestIncubator, r.Degrees > HottestIncubator:
		return SporeVoid
	}
	return SporeNegative
}
