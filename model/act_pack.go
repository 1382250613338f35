package model

// Wrap is what a pack is wrapped in.
type Wrap string

// Wraps.
const (
	WrapCloth Wrap = "cloth" // two layers, washed and used again, with a count of the washes
	WrapPaper Wrap = "paper" // used once
	WrapPouch Wrap = "pouch" // sealed, used once
)

// Wraps are all of them.
var Wraps = []Wrap{WrapCloth, WrapPaper, WrapPouch}

// PackMade is a set packed and labelled: only what is true then. Load, date and release come later.
type PackMade struct {
	Label   string  `cbor:"1,keyasint"` // as on the label, with its check character
	Prefix  string  `cbor:"2,keyasint"` // site code and device letter
	Counter int64   `cbor:"3,keyasint"`
	Set     string  `cbor:"4,keyasint"`
	Present int64   `cbor:"5,keyasint"`
	Listed  int64   `cbor:"6,keyasint"`
	Counted bool    `cbor:"7,keyasint,omitempty"` // a missing piece was counted at the end of the procedure
	Without string  `cbor:"8,keyasint,omitempty"` // pieces left out or put in their place, for the label
	Wrap    Wrap    `cbor:"9,keyasint"`
	Washes  int64   `cbor:"10,keyasint,omitempty"` // of a cloth wrap
	Again   bool    `cbor:"11,keyasint,omitempty"` // a single-use wrap used a second time
	Tape    bool    `cbor:"12,keyasint"`
	Strip   bool    `cbor:"13,keyasint"`
	Lots    string  `cbor:"14,keyasint,omitempty"` // of strip and tape
	At      int64   `cbor:"15,keyasint"`           // wall, ms
	List    ID      `cbor:"16,keyasint,omitempty"` // set list that it was counted against; zero: none
	Short   []Short `cbor:"17,keyasint,omitempty"`
	MassG   int64   `cbor:"18,keyasint,omitempty"` // weighed; 0: not
	SidesMM []int64 `cbor:"19,keyasint,omitempty"` // its three sides, longest first; none: not measured
}

// Move says where a pack went.
type Move string

// Moves.
const (
	MoveStored Move = "stored" // onto a place of the shelf
	MoveIssued Move = "issued" // to a room or a person of this clinic
	MoveLent   Move = "lent"   // to somebody outside, to come back
	MoveSent   Move = "sent"   // to another clinic
	MoveBack   Move = "back"   // it came back unopened
	MoveAside  Move = "aside"  // stopped, found and set aside where nobody takes it
)

// Moves are all of them.
var Moves = []Move{MoveStored, MoveIssued, MoveLent, MoveSent, MoveBack}

// PackMoved is a pack that changed its place.
type PackMoved struct {
	What Move   `cbor:"1,keyasint"`
	To   string `cbor:"2,keyasint"`
	Due  int64  `cbor:"3,keyasint,omitempty"` // wall, ms; 0: no day
	At   int64  `cbor:"4,keyasint"`
	Site ID     `cbor:"5,keyasint,omitempty"` // clinic of the district that it was sent or lent to, or came back to; zero: somebody else, or nobody said
}

// StripSaid is what the strip inside an opened pack shows.
type StripSaid string

// What it can show.
const (
	StripReached StripSaid = "reached"
	StripNot     StripSaid = "not-reached"
	StripNone    StripSaid = "none" // there was none inside
)

// Bad says that the strip speaks against the load; so does a word of a newer version.
func (s StripSaid) Bad() bool { return s != StripReached && s != StripNone }

// PackOpened is a pack opened for use. The register number of the use is kept as a hash only.
type PackOpened struct {
	Outside bool      `cbor:"1,keyasint"` // whole, dry, tape changed, in date
	Strip   StripSaid `cbor:"2,keyasint"`
	Use     []byte    `cbor:"3,keyasint,omitempty"` // SHA-256 of salt and number; both lie in a sealed note at the site
	At      int64     `cbor:"4,keyasint"`
	Label   bool      `cbor:"5,keyasint,omitempty"` // used on its label's word: its load is not known here
}

// Spoilt says why a pack is no longer sterile.
type Spoilt string

// Why.
const (
	SpoiltTorn    Spoilt = "torn"
	SpoiltWet     Spoilt = "wet"
	SpoiltDropped Spoilt = "dropped"
	SpoiltExpired Spoilt = "expired"
	SpoiltOpened  Spoilt = "opened" // and not used
)

// Spoils are all of them.
var Spoils = []Spoilt{SpoiltTorn, SpoiltWet, SpoiltDropped, SpoiltExpired, SpoiltOpened}

// PackSpoilt ends a pack: events beat dates.
type PackSpoilt struct {
	Why Spoilt `cbor:"1,keyasint"`
	At  int64  `cbor:"2,keyasint"`
}

// SetCounted is a set that came back from use, counted.
type SetCounted struct {
	Pack    ID     `cbor:"1,keyasint"`
	Present int64  `cbor:"2,keyasint"`
	Listed  int64  `cbor:"3,keyasint"`
	Counted bool   `cbor:"4,keyasint,omitempty"` // a missing piece was counted at the end of the procedure
	Damaged string `cbor:"5,keyasint,omitempty"`
	At      int64  `cbor:"6,keyasint"`

	Short []Short `cbor:"7,keyasint,omitempty"` // which lines of its list are short
}

// PieceLost closes the search for a piece that was never found: who was told, and what was done. The count stays as it is.
type PieceLost struct {
	Reason string `cbor:"1,keyasint"`
}

// LabelPrinted is one print of a pack's label; copies are numbered from 2.
type LabelPrinted struct {
	Copy int64 `cbor:"1,keyasint"`
}
