package practice

import (
	"slices"

	"mvuke/steam/pot"
)

// Lesson is one thing to practise. Its aim is one sentence of the catalogue, "lesson." + Code + ".aim".
type Lesson struct {
	Code    string
	HeightM int64
	Mishaps []pot.Mishap
	Until   Until
	Good    []Mark // all of these are asked for
	Water   float64
}

// Until says where a lesson ends by itself.
type Until string

// Ends of lessons.
const (
	UntilVented Until = "vented" // the air valve is shut
	UntilHeld   Until = "held"   // eight minutes are held
	UntilDrawn  Until = "drawn"  // the fire is drawn
	UntilOpen   Until = "open"   // the lid is open
)

// Mark is something done well, or something that would have hurt somebody.
type Mark string

// Done well.
const (
	SteadySteam Mark = "steady-steam"  // the vent was begun at a steady jet
	VentedFully Mark = "vented-fully"  // the steam streamed for the whole time, and the air was out
	StayedUnder Mark = "stayed-under"  // the needle never went above the limit
	HeldShown   Mark = "held-shown"    // the minutes are shown
	LooksOnTime Mark = "looks-on-time" // no look came later than the limit
	OathsTrue   Mark = "oaths-true"    // what was said of the needle was so
	ZeroFirst   Mark = "zero-first"    // the lid was opened at zero, with no steam
	WaterKept   Mark = "water-kept"    // there was always water
	BadGauge    Mark = "bad-gauge"     // the needle off zero was seen, and the pot not lit
	LeftSafely  Mark = "left-safely"   // the fire was drawn and the air valve opened before leaving
	CardChecked Mark = "card-checked"  // the height was put right before lighting
	AirOut      Mark = "air-out"       // less than one part in a hundred was left when the hold began
	FireMinded  Mark = "fire-minded"   // the dead fire was told, and the minutes begun again or the load given up
)

// What would have hurt somebody.
const (
	OpenedUnder   Mark = "opened-under"   // the lid came off under pressure: scalded
	BoiledDry     Mark = "boiled-dry"     // no water: the pot is spoilt, it may burst
	OverLimit     Mark = "over-limit"     // above the pot's limit
	LeftAlone     Mark = "left-alone"     // a lit pot was left alone
	AirInside     Mark = "air-inside"     // air was left, and the packs were not sterilized
	FalseOath     Mark = "false-oath"     // it was sworn that the needle stayed, and it had not
	WouldTrust    Mark = "would-trust"    // the readings look good and the packs are not sterilized
	RestUntrue    Mark = "rest-untrue"    // the needle did not rest where it was said to
	SplutterTaken Mark = "splutter-taken" // spluttering was taken for steady steam
)

// Harms are the marks that would have hurt somebody.
var Harms = []Mark{OpenedUnder, BoiledDry, OverLimit, LeftAlone, AirInside, FalseOath, WouldTrust, RestUntrue, SplutterTaken}

// Lessons are the ten, from easy to hard.
var Lessons = []Lesson{
	{Code: "air", HeightM: 400, Until: UntilVented, Good: []Mark{SteadySteam, VentedFully}},
	{Code: "mark", HeightM: 400, Until: UntilHeld, Good: []Mark{SteadySteam, VentedFully, StayedUnder}},
	{Code: "hold", HeightM: 1200, Until: UntilDrawn, Good: []Mark{VentedFully, HeldShown, LooksOnTime, OathsTrue}},
	{Code: "open", HeightM: 1200, Until: UntilOpen, Good: []Mark{HeldShown, ZeroFirst, WaterKept}},
	{Code: "wet-wood", HeightM: 1800, Until: UntilDrawn, Mishaps: []pot.Mishap{pot.WetWoodGiven}, Good: []Mark{SteadySteam, AirOut, HeldShown}},
	{Code: "valve", HeightM: 1800, Until: UntilDrawn, Mishaps: []pot.Mishap{pot.ValveShut}, Good: []Mark{VentedFully, AirOut, HeldShown}},
	{Code: "fire", HeightM: 1800, Until: UntilDrawn, Mishaps: []pot.Mishap{pot.FireDies}, Good: []Mark{FireMinded, OathsTrue}},
	{Code: "gauge", HeightM: 2400, Until: UntilVented, Mishaps: []pot.Mishap{pot.GaugeOffZero}, Good: []Mark{BadGauge}},
	{Code: "away", HeightM: 2400, Until: UntilDrawn, Mishaps: []pot.Mishap{pot.CalledAway}, Good: []Mark{LeftSafely}},
	{Code: "alone", HeightM: 1800, Until: UntilOpen, Mishaps: []pot.Mishap{pot.WrongCard}, Good: []Mark{CardChecked, AirOut, HeldShown, ZeroFirst}},
}

// LessonOf finds a lesson; ok is false for an unknown code.
func LessonOf(code string) (Lesson, bool) {
	i := slices.IndexFunc(Lessons, func(l Lesson) bool { return l.Code == code })
	if i < 0 {
		return Lesson{}, false
	}
	return Lessons[i], true
}

// Free is practice without a lesson, at a height and with mishaps of one's own choice.
func Free(heightM int64, mishaps ...pot.Mishap) Lesson {
	return Lesson{Code: "", HeightM: heightM, Mishaps: mishaps, Until: UntilOpen}
}
