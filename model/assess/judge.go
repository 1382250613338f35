package assess

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/steam"
	"mvuke/steam/lethality"
)

// Rule is the version of the rule; a stored verdict names it.
const Rule = "readings-1"

// Set is the temperature that the hold is for.
const Set steam.Celsius = 121

// Tolerance is what a log without a frozen plan is given, stated on the verdict: the published
// pair "121 degC, 15 lb/in2" is itself rounded.
const Tolerance steam.Celsius = 0.1

// ThermometerError is how far an added thermometer may be off (common practice, no source).
const ThermometerError = 0.5

// Input is everything a verdict rests on.
type Input struct {
	Plan      model.FrozenPlan
	Item      model.Item
	Readings  []model.Reading
	Steps     []model.Step
	Breaks    []model.Interrupted
	Incidents []model.Incident
	Rest      *int64 // needle at rest before, thousandths; nil: not noted
	Paper     bool
	Tolerant  bool           // no frozen plan: the restart line already holds the tolerance
	Assumed   []model.Reason // what the caller had to assume, said beside the verdict
}

// Result is the verdict with its figures.
type Result struct {
	model.Judged
	Held, Asked float64      // minutes: longest unbroken proven hold, planned
	Running     float64      // minutes of the proven hold that goes on to the last look; 0 after an interruption
	E121, F0    float64      // minutes, interpolated, nothing credited below 115 degC
	Guaranteed  *float64     // nil: cannot be bounded
	Highest     float64      // highest needle, dial's unit
	Level       steam.Bounds // temperature at the lowest look of the longest stretch at or near the line
	Line        float64
}

// Judge says what the readings show.
func Judge(in Input) (Result, error) {
	g, air := thaw(in.Plan)
	looks := looksOf(in.Readings, in.Plan)
	in.unprove(looks)
	line, limit := float64(in.Plan.RestartMilli)/1000, float64(in.Plan.GapMinutes)
	r := Result{Asked: float64(in.Plan.Minutes), Line: line}
	why := reasons(slices.Clone(in.Assumed))

	points := make([]lethality.Point, 0, len(looks))
	bounds := make([]steam.Bounds, 0, len(looks))
	for i, l := range looks {
		if i > 0 && l.minute < looks[i-1].minute {
			why.add(BadTimes, one(l.minute))
		}
		b, err := g.at(l.needle, air)
		if err != nil {
			return Result{}, err
		}
		bounds = append(bounds, b)
		points = append(points, lethality.Point{Minute: l.minute, T: b.Nominal})
		r.Highest = max(r.Highest, l.needle)
	}
	r.E121 = lethality.Sum(points, lethality.Reference121, steam.LeastCredited)
	r.F0 = lethality.Sum(points, lethality.ReferenceF0, steam.LeastCredited)

	proven, possible := longest(looks, line, limit, 0), longest(looks, line, limit, 2*r.Asked)
	r.Held = proven.minutes
	r.Running = in.running(looks, line, limit)
	in.holdReasons(&why, &r, looks, proven, possible, g, air)
	vented := in.ventReasons(&why, looks, proven, possible)
	bounded := in.restReasons(&why, g, air)
	in.endReasons(&why, looks)
	in.airReasons(&why, looks, bounds, g, air)
	if vented && bounded && len(looks) > 0 {
		in.dose(&why, &r, looks, bounds, proven, g, air)
	}
	in.notes(&why, r, points, proven)
	r.Judged = r.freeze(why)
	return r, nil
}

const close = 1e-9 // minutes; the dust of milliseconds

func (in Input) holdReasons(why *reasons, r *Result, looks []look, proven, possible run, g frozenGauge, air steam.Ambient) {
	line, limit := float64(in.Plan.RestartMilli)/1000, float64(in.Plan.GapMinutes)
	if len(looks) < 2 {
		why.add(TooFewLooks)
	}
	for i := 1; i < len(looks); i++ {
		if between(looks[i-1], looks[i], line, limit) == unknown {
			why.add(Gap, one(looks[i-1].minute), one(looks[i].minute), short(limit))
		}
	}
	if n, lowest := restarts(looks, line, limit); n > 0 {
		why.add(Restarted, short(float64(n)), two(lowest))
	}
	switch {
	case possible.minutes < r.Asked-close:
		why.add(HoldShort, one(floor1(possible.minutes)), short(r.Asked))
		if l, ok := plateau(looks, line); ok {
			b, _ := g.at(l, air)
			r.Level = b
			why.add(BelowLine, two(l), two(below(float64(b.Nominal))), two(line), two(in.need(g)))
		}
	case proven.minutes < r.Asked-close:
		why.add(HoldNotProven, one(floor1(proven.minutes)), short(r.Asked))
	}
	if proven.minutes > 0 {
		low := looks[proven.from].needle
		for _, l := range looks[proven.from : proven.to+1] {
			low = min(low, l.needle)
		}
		r.Level, _ = g.at(low, air)
		if in.Tolerant && r.Level.Nominal < Set-0.001 {
			why.add(ToleranceUsed, two(float64(Set-r.Level.Nominal)), two(float64(Tolerance)))
		}
	}
}

// need is the bare need in the dial's unit.
func (in Input) need(g frozenGauge) float64 { return g.Shown(steam.Over(in.Plan.NeedPa)) }

// plateau is the lowest look of the longest stretch that stayed below the line and within a
// fifth of it: "steady, but too low".
func plateau(looks []look, line float64) (lowest float64, ok bool) {
	near := func(l look) bool { return l.needle < line && l.needle >= 0.8*line }
	best := 0.0
	for i := 0; i < len(looks); i++ {
		if !near(looks[i]) {
			continue
		}
		j, low := i, looks[i].needle
		for j+1 < len(looks) && near(looks[j+1]) {
			j++
			low = min(low, looks[j].needle)
		}
		if d := looks[j].minute - looks[i].minute; d > best {
			best, lowest, ok = d, low, true
		}
		i = j
	}
	return lowest, ok
}

func (in Input) dose(why *reasons, r *Result, looks []look, bounds []steam.Bounds, hold run, g frozenGauge, air steam.Ambient) {
	from, to := 0, len(looks)-1
	if hold.minutes >= r.Asked-close { // of one that fell short all of it counts: a part that stayed on the line makes what the load got no smaller
		from, to = hold.from, hold.to
	}
	lim := lethality.DefaultLimits
	lim.Reach = float64(in.Plan.GapMinutes)
	if in.Paper {
		lim.Clock = 0.5
	}
	var rs []lethality.Reading
	for i := from; i <= to; i++ {
		x := lethality.Reading{Minute: looks[i].minute, Low: bounds[i].Low}
		if looks[i].told && !looks[i].away {
			if b, err := g.at(looks[i].lowest, air); err == nil {
				x.Claimed, x.Claim = true, b.Low
			}
		}
		rs = append(rs, x)
	}
	dose := lethality.Guaranteed(rs, lim, lethality.GuardedCredit)
	r.Guaranteed = &dose
	if asked := float64(in.Plan.DoseMilli) / 1000; dose < asked {
		why.add(DoseShort, one(floor1(dose)), short(asked))
	}
}

func (in Input) notes(why *reasons, r Result, points []lethality.Point, hold run) {
	for _, b := range in.Breaks {
		why.add(Interrupted, one(float64(b.From)/60000), one(float64(b.To)/60000))
	}
	if in.Paper {
		why.add(FromPaper)
	}
	if in.Item == model.Unwrapped {
		why.add(ImmediateUse)
	}
	if hold.minutes > 0 {
		in := lethality.Sum(points[hold.from:hold.to+1], lethality.Reference121, steam.LeastCredited)
		if r.E121-in >= 0.1 {
			why.add(HeatUp, one(r.E121-in))
		}
	}
}

func floor1(v float64) float64 { return math.Floor(v*10+1e-6) / 10 }

// below is a temperature to be written with two decimals: one that is not reached is not rounded up to it.
func below(v float64) float64 {
	if v < float64(Set) {
		return min(v, float64(Set)-0.01)
	}
	return v
}

// freeze rounds the figures to whole thousandths, never to the friendly side.
// Impossible is the verdict where Judge gives none: a look that no dial shows, or a plan that cannot be. Nothing is known by it, and nothing is guaranteed.
func Impossible(in Input) Result {
	r := Result{Asked: float64(in.Plan.Minutes), Line: float64(in.Plan.RestartMilli) / 1000}
	why := reasons(slices.Clone(in.Assumed))
	why.add(CannotBe)
	r.Judged = r.freeze(why)
	return r
}

func (r Result) freeze(why reasons) model.Judged {
	j := model.Judged{Verdict: why.verdict(), Rule: Rule, Reasons: why,
		HeldMilli: int64(math.Floor(r.Held*1000 + 1e-6)), AskedMilli: milli(r.Asked),
		E121Milli: int64(math.Floor(r.E121 * 1000)), F0Milli: int64(math.Floor(r.F0 * 1000)), GuaranteedMilli: -1}
	if r.Guaranteed != nil {
		j.GuaranteedMilli = int64(math.Floor(*r.Guaranteed * 1000))
	}
	return j
}
