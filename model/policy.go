package model

// Policy is a district's choice, with the source it rests on. Numbers are data, never
// constants in code.
type Policy struct {
	Code   string `cbor:"1,keyasint"`
	On     bool   `cbor:"2,keyasint"`
	Value  int64  `cbor:"3,keyasint"` // meaning and unit by Code
	Source string `cbor:"4,keyasint"`
}

// Policy codes. Units in brackets.
const (
	PolicyWrapped          = "hold-wrapped"       // [min] at or above the restart line, set temperature 121.0 degC
	PolicyUnwrapped        = "hold-unwrapped"     // [min]
	PolicyVent             = "vent"               // [min] of steady steam
	PolicyGap              = "reading-limit"      // [min] between looks
	PolicyAskEvery         = "ask-every"          // [min] between reminders
	PolicyDose             = "least-dose"         // [thousandths of a minute], guaranteed
	PolicyNotKnown         = "release-not-known"  // [0] a named person may release "not known"
	PolicyWitness          = "witness-required"   // [0]
	PolicyLongHold         = "long-hold"          // [0] longer hold for pots that cannot reach 121 degC
	PolicyShelfCloth       = "shelf-cloth"        // [days] from sterilization, the last day included
	PolicyShelfPaper       = "shelf-paper"        // [days]
	PolicyShelfPouch       = "shelf-pouch"        // [days]
	PolicyUseFirst         = "use-first"          // [days] before the last day from which a pack is to be used first
	PolicyWashes           = "cloth-washes"       // [times] that a cloth wrap may be washed
	PolicyCompareEvery     = "compare-every"      // [days]
	PolicySporeEvery       = "spore-every"        // [days] between valid negative spore tests
	PolicyCardDays         = "card-days"          // [days]
	PolicyHotGauge         = "hot-gauge"          // [0] extra error of a hot gauge (from memory)
	PolicyBlockNotCompared = "block-not-compared" // [0]
	PolicyCommission       = "commission"         // [cycles] good ones with a witness from inside a pack, before a pot's first release
	PolicyRecallWide       = "recall-wide"        // [0] one growth calls back every load since the last valid negative; off: its own load, and all after a second growth
	PolicyPackMass         = "pack-mass"          // [g] of one pack
	PolicyPackDensity      = "pack-density"       // [kg/m3] of a pack of textiles
	PolicyPackLength       = "pack-length"        // [mm] of a pack's longest side
)

// PolicyCare is the policy with the days of a task of the pot's care.
func PolicyCare(t CareTask) string {
	if t == CareGauge {
		return PolicyCompareEvery
	}
	return "care-" + string(t)
}

// DefaultPolicies are in force until a district states others.
func DefaultPolicies() []Policy {
	return []Policy{
		{PolicyWrapped, true, 30, "CDC 2008 guideline, table 7; IPPF Med Bull 25(5) 1991"},
		{PolicyUnwrapped, true, 20, "IPPF Med Bull 25(5) 1991"},
		{PolicyVent, true, 10, "PNW 421 (16-22 l vessels)"},
		{PolicyGap, true, 10, "common practice, no source"},
		{PolicyAskEvery, true, 5, "common practice, no source"},
		{PolicyDose, true, 12000, "overkill practice, secondary source"},
		{PolicyNotKnown, false, 0, "district decides"},
		{PolicyWitness, true, 0, "CDC 2008 guideline: strip inside packs, every load"},
		{PolicyLongHold, false, 0, "none: below 120 degC published work finds simple models too hopeful"},
		{PolicyShelfCloth, true, 14, "common practice, no source"},
		{PolicyShelfPaper, true, 30, "local policies with fixed dates, secondary source"},
		{PolicyShelfPouch, true, 270, "CDC, quoted by a secondary source: at least 9 months"},
		{PolicyUseFirst, true, 3, "common practice, no source"},
		{PolicyWashes, true, 75, "common practice, no source"},
		{PolicyCompareEvery, true, 90, "common practice, no source"},
		{PolicySporeEvery, true, 30, "common practice, no source; CDC 2008: at least weekly"},
		{PolicyCardDays, true, 90, "as the comparison"},
		{PolicyHotGauge, false, 4, "EN 837-1, from memory"},
		{PolicyBlockNotCompared, false, 0, "district decides"},
		{PolicyCommission, true, 3, "common practice, no source"},
		{PolicyRecallWide, true, 0, "recall since the last negative: a sample log form for pots watched by hand; off: CDC 2008 guideline, one positive test"},
		{PolicyCare(CareSeal), true, 30, "common practice, no source"},
		{PolicyCare(CareBolts), true, 90, "common practice, no source"},
		{PolicyCare(CarePlug), true, 90, "common practice, no source"},
		{PolicyCare(CareScale), true, 30, "common practice, no source"},
		{PolicyCare(CareHearth), true, 30, "common practice, no source"},
		{PolicyCare(CareValve), true, 90, "common practice, no source"},
		{PolicyPackMass, true, 5500, "12 lb for textiles, hospital practice, from memory"},
		{PolicyPackDensity, true, 115, "7.2 lb/ft3, hospital practice, from memory"},
		{PolicyPackLength, true, 500, "12 x 12 x 20 in, hospital practice, from memory"},
	}
}

// PolicyRef is the noun that all statements of one policy are about.
func PolicyRef(code string) Ref {
	var id ID
	copy(id[:], code) // codes are short and differ in their first sixteen letters
	return Ref{Noun: NounPolicy, ID: id}
}

// Policies are looked up by code.
type Policies map[string]Policy

// Rules merges stated policies over the defaults; the stricter use of a missing one is off.
func Rules(stated []Policy) Policies {
	m := Policies{}
	for _, p := range DefaultPolicies() {
		m[p.Code] = p
	}
	for _, p := range stated {
		if d, known := m[p.Code]; known && !p.On {
			p.Value = d.Value // what is off says nothing of its number
		}
		m[p.Code] = p
	}
	return m
}

// On says whether a switch is on.
func (m Policies) On(code string) bool { return m[code].On }

// Value is the number of a policy.
func (m Policies) Value(code string) int64 { return m[code].Value }
