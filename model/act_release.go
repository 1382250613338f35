package model

// PackCheck is one pack looked at after it is cool.
type PackCheck struct {
	Pack   ID   `cbor:"1,keyasint"`
	TapeOK bool `cbor:"2,keyasint"` // the tape changed (false also where there is none)
	Dry    bool `cbor:"3,keyasint"`
	WrapOK bool `cbor:"4,keyasint"`
	NoTape bool `cbor:"5,keyasint,omitempty"`
}

// OK says that nothing was found.
func (c PackCheck) OK() bool { return (c.TapeOK || c.NoTape) && c.Dry && c.WrapOK }

// WetLoad is the number of wet packs that makes the whole load wet (common guidance:
// several; two by default policy).
const WetLoad = 2

// Unloaded is the look at the packs.
type Unloaded struct {
	Checks []PackCheck `cbor:"1,keyasint"`
	Cool   bool        `cbor:"2,keyasint"`
	At     int64       `cbor:"3,keyasint"`
}

// WitnessKind is what lay in the test pack.
type WitnessKind string

// Witnesses.
const (
	WitnessStrip       WitnessKind = "strip"
	WitnessThermometer WitnessKind = "thermometer" // maximum-registering
)

// Witness is the test pack opened there and then.
type Witness struct {
	Kind     WitnessKind `cbor:"1,keyasint"`
	Reached  bool        `cbor:"2,keyasint"` // strip at its end point, or the thermometer at the set temperature
	MaxMilli int64       `cbor:"3,keyasint,omitempty"`
	Lot      string      `cbor:"4,keyasint,omitempty"`
}

// Verdict on what the readings show. There are three and no others.
type Verdict string

// Verdicts.
const (
	Shown    Verdict = "shown"
	NotKnown Verdict = "not-known"
	Failed   Verdict = "failed"
)

// Reason is a code with arguments; only the catalogue turns it into words.
type Reason struct {
	Code string   `cbor:"1,keyasint" json:"code"`
	Args []string `cbor:"2,keyasint" json:"args,omitempty"`
}

// Judged is the verdict as a release or a rejection saw it: rounded whole numbers and
// the rule's version, never recomputed by the fold.
type Judged struct {
	Verdict         Verdict  `cbor:"1,keyasint"`
	Rule            string   `cbor:"2,keyasint"`
	Reasons         []Reason `cbor:"3,keyasint"`
	HeldMilli       int64    `cbor:"4,keyasint"` // longest unbroken hold, thousandths of a minute, rounded down
	AskedMilli      int64    `cbor:"5,keyasint"`
	E121Milli       int64    `cbor:"6,keyasint"`
	F0Milli         int64    `cbor:"7,keyasint"`
	GuaranteedMilli int64    `cbor:"8,keyasint"` // -1: cannot be bounded
}

// Release says that packs of a load may be used.
type Release struct {
	Judged     Judged `cbor:"1,keyasint"`
	Override   bool   `cbor:"2,keyasint"` // "not known", released by name and reason under a policy
	Reason     string `cbor:"3,keyasint"`
	SamePerson bool   `cbor:"4,keyasint"` // who loaded also released
	At         int64  `cbor:"5,keyasint"` // wall, ms; as on paper for a slip
}

// Reject ends packs or a whole load as not sterile, for good.
type Reject struct {
	Judged Judged   `cbor:"1,keyasint"`
	Reason string   `cbor:"2,keyasint"`
	Codes  []string `cbor:"3,keyasint"`
}

// Hold stops its targets until it is cleared by name.
type Hold struct {
	Code   string `cbor:"1,keyasint"`
	Reason string `cbor:"2,keyasint"`
}

// Clear lifts the holds that the entry's `clears` names.
type Clear struct {
	Reason    string      `cbor:"1,keyasint"`
	Knew      []KnownUpTo `cbor:"2,keyasint,omitempty"` // of a pot's growth: how far each stream that lit the pot was known; a load told of later stays held
	SlipsFrom int64       `cbor:"3,keyasint,omitempty"` // of a pot's growth: wall, ms; a load on paper lit before it stays held. 0: every load on paper does
}

// KnownUpTo is how far a stream was known when something was written.
type KnownUpTo struct {
	Stream []byte `cbor:"1,keyasint"`
	Seq    int64  `cbor:"2,keyasint"`
}

// IncidentCode names what happened.
type IncidentCode string

// Incidents.
const (
	OpenedUnderPressure IncidentCode = "opened-under-pressure"
	Burn                IncidentCode = "burn"
	BoiledDry           IncidentCode = "boiled-dry"
	RestNotReturned     IncidentCode = "rest-not-returned"
	UnsterileUse        IncidentCode = "unsterile-use" // a pack that may not be used was opened for use
	LidTrouble          IncidentCode = "lid"           // the lid leaked, jumped, was hard to open or fell
	ValveBlocked        IncidentCode = "valve-blocked" // no steam came when the valve was opened
	OtherIncident       IncidentCode = "other"
)

// Bad says that the incident stops the load. One that this version does not know is bad.
func (c IncidentCode) Bad() bool {
	return c != Burn && c != RestNotReturned && c != OtherIncident
}

// Incident is something that hurt or could have.
type Incident struct {
	Code        IncidentCode `cbor:"1,keyasint"`
	Text        string       `cbor:"2,keyasint"`
	NeedleMilli int64        `cbor:"3,keyasint,omitempty"`
}

// Amended stands beside the entry it corrects (named in `replaces`).
type Amended struct {
	Field  string `cbor:"1,keyasint"`
	Old    string `cbor:"2,keyasint"`
	New    string `cbor:"3,keyasint"`
	Reason string `cbor:"4,keyasint"`
	Judged bool   `cbor:"5,keyasint"` // the field is one that a verdict rests on
}

// Harmless says that the corrected field is one that no verdict can rest on. The author's own flag can
// make a field judged, never harmless.
func (a Amended) Harmless() bool {
	return !a.Judged && (a.Field == "fuel" || a.Field == "note" || a.Field == "text")
}

// Disinfected is a set boiled or flamed: for immediate use, never sterile.
type Disinfected struct {
	What    string `cbor:"1,keyasint"`
	Minutes int64  `cbor:"2,keyasint"`
	Way     string `cbor:"3,keyasint"`
}
