package model

// CareTask is one task of the pot's care.
type CareTask string

// The tasks, in the order of lists. Valve and gauge have tests of their own, which count as done.
const (
	CareSeal   CareTask = "seal"   // rubber and its seat: clean, soft, whole
	CareBolts  CareTask = "bolts"  // lid bolts or clamps: straight, moving, threads clean
	CarePlug   CareTask = "plug"   // pressure plug and vent tube: clear, not painted over
	CareScale  CareTask = "scale"  // inside free of scale and soot
	CareHearth CareTask = "hearth" // fireplace, draught, chimney
	CareValve  CareTask = "valve"
	CareGauge  CareTask = "gauge"
)

// CareTasks are all of them.
var CareTasks = []CareTask{CareSeal, CareBolts, CarePlug, CareScale, CareHearth, CareValve, CareGauge}

// CareDone is a task done, with the part that it took.
type CareDone struct {
	Task CareTask   `cbor:"1,keyasint"`
	Part Consumable `cbor:"2,keyasint,omitempty"` // counted off the stock
	Note string     `cbor:"3,keyasint,omitempty"`
	At   int64      `cbor:"4,keyasint"` // wall, ms
}

// HeightTold is the altitude of a site found by another way, to stand beside what its marks rest on.
type HeightTold struct {
	How          HeightHow `cbor:"1,keyasint"`
	HeightM      int64     `cbor:"2,keyasint"`
	WithinM      int64     `cbor:"3,keyasint"` // how far it may be off
	PressurePa   int64     `cbor:"4,keyasint,omitempty"`
	BoilingMilli int64     `cbor:"5,keyasint,omitempty"` // degC, thousandths
	At           int64     `cbor:"6,keyasint"`           // wall, ms
}

// SetChange is what happened to pieces of a set.
type SetChange string

// Changes.
const (
	PieceToRepair SetChange = "to-repair"
	PieceBack     SetChange = "back"     // from repair
	PieceReplaced SetChange = "replaced" // a new one for one that is gone
	PieceRetired  SetChange = "retired"  // blunt, cracked, rusted: not to be used again
)

// SetChanges are all of them.
var SetChanges = []SetChange{PieceToRepair, PieceBack, PieceReplaced, PieceRetired}

// SetCare tells what happened to pieces of a set.
type SetCare struct {
	What  SetChange `cbor:"1,keyasint"`
	Piece string    `cbor:"2,keyasint"`
	Count int64     `cbor:"3,keyasint"`
	Note  string    `cbor:"4,keyasint,omitempty"`
	At    int64     `cbor:"5,keyasint"` // wall, ms
}

// ShelfCounted is a place of the shelf gone through by scanning: what lay there, and what should have and did not.
type ShelfCounted struct {
	Place   string `cbor:"1,keyasint"`
	Seen    []ID   `cbor:"2,keyasint"`
	Missing []ID   `cbor:"3,keyasint"`
	At      int64  `cbor:"4,keyasint"` // wall, ms
}

// VisitCheck is one line of an officer's checklist at a clinic.
type VisitCheck struct {
	Code string `cbor:"1,keyasint"`
	Good bool   `cbor:"2,keyasint"`
	Note string `cbor:"3,keyasint,omitempty"`
}

// Visit is an officer's visit to a clinic: what was looked at, and what was agreed on.
type Visit struct {
	Site    ID           `cbor:"1,keyasint"`
	Checks  []VisitCheck `cbor:"2,keyasint"`
	Actions []Action     `cbor:"3,keyasint,omitempty"`
	Note    string       `cbor:"4,keyasint,omitempty"`
	At      int64        `cbor:"5,keyasint"` // wall, ms
}

// Action is something to be done by a day.
type Action struct {
	ID   ID     `cbor:"1,keyasint"`
	Text string `cbor:"2,keyasint"`
	Due  int64  `cbor:"3,keyasint"` // wall, ms
}

// ActionDone says that an action was done, and how.
type ActionDone struct {
	Action ID     `cbor:"1,keyasint"`
	Note   string `cbor:"2,keyasint,omitempty"`
	At     int64  `cbor:"3,keyasint"` // wall, ms
}
