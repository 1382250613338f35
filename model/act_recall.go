package model

// RecallWhy is what a recall is opened for.
type RecallWhy string

// What it can be. A word of a newer version is a recall all the same.
const (
	RecallSpore    RecallWhy = "spore"    // spores of a test grew
	RecallStrip    RecallWhy = "strip"    // a strip inside failed when its pack was opened
	RecallGauge    RecallWhy = "gauge"    // the gauge was found to show too much
	RecallAltitude RecallWhy = "altitude" // the altitude was put right, upwards
	RecallWet      RecallWhy = "wet"      // packs wet, torn or wrongly labelled
	RecallHand     RecallWhy = "hand"     // by somebody's word
)

// RecallWhys are all of them, in the order of a list.
var RecallWhys = []RecallWhy{RecallSpore, RecallStrip, RecallGauge, RecallAltitude, RecallWet, RecallHand}

// Recall opens a recall, or widens it: of several words on one the widest counts. What it targets is held, but in a drill.
type Recall struct {
	Number int64     `cbor:"1,keyasint"` // as people call it; of one site
	Why    RecallWhy `cbor:"2,keyasint"`
	Pot    ID        `cbor:"3,keyasint,omitempty"`
	Wide   bool      `cbor:"4,keyasint,omitempty"` // every load of the pot that was not provably before After; else only what is targeted
	After  ID        `cbor:"5,keyasint,omitempty"` // cycle of the last valid negative test that it leans on; zero: there was none
	Cause  ID        `cbor:"6,keyasint,omitempty"` // spore test, cycle or gauge that it comes from
	Drill  bool      `cbor:"7,keyasint,omitempty"` // to learn how long it takes: holds nothing
	Reason string    `cbor:"8,keyasint,omitempty"`
	At     int64     `cbor:"9,keyasint"` // wall, ms

	Knew []KnownUpTo `cbor:"10,keyasint,omitempty"` // of a wide one: how far each stream that lit the pot was known; a load told of later is called back too

	LookedBack bool `cbor:"11,keyasint,omitempty"` // by looking back alone: what stands after all may be freed of it by name

	Spare []SpareLoads `cbor:"12,keyasint,omitempty"` // of a wide one: the loads that it is about too, should the good tests that it leans on prove nothing any more, one test further back after the other
}

// SpareLoads are the loads that a recall is about too, should none of the readings of a good test prove anything any more, nor any of those of the tests after it.
type SpareLoads struct {
	Reads [][]byte `cbor:"1,keyasint"`
	Loads [][]byte `cbor:"2,keyasint"`
}

// Sought says what came of looking for packs of a recall.
type Sought string

// What can come of it.
const (
	SoughtSeen      Sought = "seen"      // in somebody's hands: nobody will use it
	SoughtLost      Sought = "lost"      // looked for, and not found
	SoughtClinician Sought = "clinician" // who used them was told
)

// RecallTold is what came of looking for packs.
type RecallTold struct {
	What  Sought `cbor:"1,keyasint"`
	Packs []ID   `cbor:"2,keyasint"`
	Note  string `cbor:"3,keyasint,omitempty"`
	At    int64  `cbor:"4,keyasint"`

	Uses [][]byte `cbor:"5,keyasint,omitempty"` // of SoughtClinician: hashes of the uses that somebody was told of
}

// RecallClosed ends a recall: every pack is accounted for, or somebody in charge signs why not. Several of them may share the packs of one recall. A pack, a load or a use that none of them
// names opens it again.
type RecallClosed struct {
	Reason string `cbor:"1,keyasint"`
	Packs  []ID   `cbor:"2,keyasint"` // that it was about when it was closed
	Left   []ID   `cbor:"3,keyasint"` // of these, those that were not accounted for
	At     int64  `cbor:"4,keyasint"`

	Untold []ID     `cbor:"6,keyasint,omitempty"` // packs used on somebody, of whom nobody was told then
	Uses   [][]byte `cbor:"7,keyasint,omitempty"` // hashes of those uses
	Absent []ID     `cbor:"8,keyasint,omitempty"` // loads that it was about and that were not here
	Knew   [][]byte `cbor:"9,keyasint,omitempty"` // holds that stopped its loads then: what else stops them asks anew
}
