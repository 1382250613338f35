package assess

import (
	"strconv"

	"mvuke/model"
)

// weight says what a reason does to the verdict.
type weight int

const (
	note  weight = iota // stands beside the verdict
	doubt               // not known
	fault               // failed
)

// Codes of reasons. Each has a sentence in the catalogue under "reason." + code.
const (
	HoldShort       = "hold-short"      // held, asked [min]
	BelowLine       = "below-line"      // needle, temperature [degC], line, need
	OpenedUnder     = "opened-under"    // needle at opening
	AirSuspected    = "air-suspected"   // thermometer [degC], expected [degC], share of the first air [%]
	AirUnsure       = "air-unsure"      // thermometer [degC], expected [degC]: within their errors, air or none
	ThermometerOdd  = "thermometer-odd" // figure that steam cannot have there
	ThermometerLow  = "thermometer-low" // lowest while the needle was at or above the line [degC]
	BadTimes        = "bad-times"       // minute: out of order
	HoldNotProven   = "hold-not-proven" // proven, asked [min]
	Gap             = "gap"             // from, to, limit [min]
	VentMissing     = "vent-missing"    // asked [min]
	VentShort       = "vent-short"      // vented, asked [min]
	VentStale       = "vent-stale"      // needle fell to rest after the vent
	ZeroMissing     = "zero-missing"
	GaugeUnbounded  = "gauge-unbounded" // rest
	RestMissing     = "rest-missing"
	RestNotReturned = "rest-not-returned" // rest before, after
	DoseShort       = "dose-short"        // guaranteed, asked [min]
	TooFewLooks     = "too-few-looks"
	ToleranceUsed   = "tolerance"   // under by [K], tolerance [K]
	Restarted       = "restarted"   // times, lowest needle
	Interrupted     = "interrupted" // from, to [min]
	FromPaper       = "from-paper"
	ImmediateUse    = "immediate-use"
	ExactGauge      = "exact-gauge"
	ClassAssumed    = "class-assumed" // class
	SpanAssumed     = "span-assumed"  // span, unit
	LineAssumed     = "line-assumed"  // line, unit
	RestAssumed     = "rest-assumed"
	NotCompared     = "not-compared" // class counted
	Practised       = "practice"     // a simulated pot: worth nothing as a record
	CannotBe        = "cannot-be"    // a look or a plan that no pot ever had
	HeatUp          = "heat-up"      // E121 outside the hold [min]
)

var weights = map[string]weight{
	HoldShort: fault, BelowLine: fault, OpenedUnder: fault, AirSuspected: fault,
	BadTimes: doubt, CannotBe: doubt, ThermometerLow: doubt, ThermometerOdd: doubt, HoldNotProven: doubt, Gap: note, VentMissing: doubt, VentShort: doubt, VentStale: doubt, ZeroMissing: doubt,
	GaugeUnbounded: doubt, RestMissing: doubt, RestNotReturned: doubt, DoseShort: doubt, TooFewLooks: doubt,
}

type reasons []model.Reason

func (r *reasons) add(code string, args ...string) {
	*r = append(*r, model.Reason{Code: code, Args: args})
}

// verdict is the worst that the reasons say.
func (r reasons) verdict() model.Verdict {
	worst := note
	for _, x := range r {
		worst = max(worst, weights[x.Code])
	}
	return map[weight]model.Verdict{note: model.Shown, doubt: model.NotKnown, fault: model.Failed}[worst]
}

// one, two: figures as arguments, with a point; the catalogue writes them in the reader's way.
func one(v float64) string   { return strconv.FormatFloat(v, 'f', 1, 64) }
func two(v float64) string   { return strconv.FormatFloat(v, 'f', 2, 64) }
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
