package steam

import "math"

// A plan is made before the fire is lit and frozen in the cycle's first entry:
//
//	need     pressure for the set temperature at this site; rounded up only
//	restart  the need, up to the next half line of this dial: a reading below it
//	         starts the hold again, live and in every later judgement
//	mark     need + allowances for height and weather + the gauge's error, up to the
//	         next half line: "keep the needle here"
//	limit    "never above": the smaller of the safety valve's setting and the pot's own
//	         maximum, down to a line
//	minutes  the published minutes, or more if the guaranteed dose needs more
//
// Where the mark would come closer than half a line to the limit, the gauge's
// error is left out of it and the minutes grow instead. Where that does not fit
// either there is no mark, and the plan says what can be done tonight.

// Request is what a plan rests on.
type Request struct {
	Gauge   Gauge
	Air     Ambient
	Set     Celsius // temperature asked for, 121.0
	Minutes float64 // published minutes for the item
	Limit   Over    // 0: not known
	// PerMinute gives the guaranteed minutes at 121.1 degC credited for each minute of a
	// hold with the needle read at the mark and sworn to have stayed at or above the
	// restart line, from the least temperatures at both. Supplied by package lethality.
	PerMinute func(atMark, atRestart Celsius) float64
	LeastDose float64 // guaranteed dose asked for; 12 by default policy
}

// Allowance is one of the amounts by which the mark stands above the need.
type Allowance struct {
	Name string // altitude, weather, gauge, rounding
	Over Over
}

// Plan is the frozen answer. Figures named after the dial are in its unit.
type Plan struct {
	Need         Over
	NeedShown    float64
	Restart      float64
	Mark         float64
	Limit        float64 // 0: not known
	Minutes      int
	Allowances   []Allowance
	ErrorLeftOut bool   // the gauge's error is not in the mark: the minutes grew instead
	AtMark       Bounds // chamber temperature with the needle at the mark
	Refused      *Refusal
}

// Refusal says why there is no mark, and what can be done tonight.
type Refusal struct {
	Code        string
	Need, Limit float64  // in the dial's unit
	At          Celsius  // temperature at the limit, where that is the reason
	Tonight     []string // codes: compare-gauge, neighbour, boil, office, bigger-dial
}

// Refusal codes.
const (
	LimitBelowNeed = "limit-below-need"
	NoRoom         = "no-room-under-limit"
	DialTooShort   = "dial-too-short"
	TooLong        = "too-long"
	TooCool        = "too-cool-to-promise"
)

// LongestHold is the most minutes a plan may ask for; fires and water do not last longer.
const LongestHold = 60

// LeastCredited is the temperature below which nothing is credited and nothing planned.
const LeastCredited Celsius = 115

// Make works the plan out. Bad inputs are errors; a pot that cannot do the set
// temperature is an answer (Plan.Refused), not an error.
func Make(r Request) (Plan, error) {
	if err := r.check(); err != nil {
		return Plan{}, err
	}
	need, err := Need(r.Set, r.Air)
	if err != nil {
		return Plan{}, err
	}
	g, half := r.Gauge, r.Gauge.Line/2
	p := Plan{
		Need:      need,
		NeedShown: roundUp(g.Shown(need), g.Unit.UsualLine()/100),
		Restart:   roundUp(g.Shown(need), half),
	}
	if r.Limit != 0 {
		bare := g // a comparison may lower the limit on the dial, never raise it: a slip in it must not let the pot go higher
		bare.Corrections = nil
		p.Limit = roundDown(min(g.Shown(r.Limit), bare.Shown(r.Limit)), g.Line)
	}
	p.Allowances = []Allowance{{"altitude", r.Air.Altitude}, {"weather", r.Air.Weather}, {"gauge", g.Error()}}
	site := need + r.Air.Altitude + r.Air.Weather
	full, short := roundUp(g.Shown(site+g.Error()), half), roundUp(g.Shown(site), half)

	switch {
	case p.Limit != 0 && p.Restart > p.Limit:
		at, _ := Tsat(Absolute(g.True(p.Limit)) + r.Air.Nominal)
		return p.refuse(LimitBelowNeed, at, "neighbour", "boil", "office"), nil
	case p.fits(full, half, g.Span):
		p.Mark = full
	case p.fits(short, half, g.Span):
		p.Mark, p.ErrorLeftOut = short, true
		p.Allowances = p.Allowances[:2]
	case full > g.Span:
		return p.refuse(DialTooShort, 0, "bigger-dial", "neighbour", "boil", "office"), nil
	default:
		return p.refuse(NoRoom, 0, "compare-gauge", "neighbour", "boil", "office"), nil
	}
	return r.minutes(p)
}

// fits says whether a mark leaves half a line of room under the limit and stands on the dial.
func (p Plan) fits(mark, half, span float64) bool {
	return mark <= span && (p.Limit == 0 || p.Limit-mark >= half-1e-9)
}

// minutes sets how long the hold must last at the mark.
func (r Request) minutes(p Plan) (Plan, error) {
	g := r.Gauge
	var sum Over
	for _, a := range p.Allowances {
		sum += a.Over
	}
	p.Allowances = append(p.Allowances, Allowance{"rounding", g.True(p.Mark) - p.Need - sum})
	var err error
	if p.AtMark, err = g.Temperature(p.Mark, r.Air); err != nil {
		return Plan{}, err
	}
	line, err := g.Temperature(p.Restart, r.Air)
	if err != nil {
		return Plan{}, err
	}
	if p.AtMark.Low < LeastCredited {
		return p.refuse(TooCool, p.AtMark.Low, "compare-gauge", "neighbour", "boil", "office"), nil
	}
	minutes := r.Minutes
	if rate := r.PerMinute(p.AtMark.Low, line.Low); rate > 0 {
		minutes = max(minutes, r.LeastDose/rate)
	} else {
		minutes = math.Inf(1)
	}
	if minutes > LongestHold {
		return p.refuse(TooLong, p.AtMark.Low, "compare-gauge", "neighbour", "boil", "office"), nil
	}
	p.Minutes = int(math.Ceil(minutes - 1e-9))
	return p, nil
}

func (p Plan) refuse(code string, at Celsius, tonight ...string) Plan {
	p.Refused = &Refusal{Code: code, Need: p.NeedShown, Limit: p.Limit, At: at, Tonight: tonight}
	p.Mark, p.Minutes = 0, 0
	return p
}

func (r Request) check() error {
	g := r.Gauge
	if !g.Unit.Known() {
		_, err := ParseUnit(string(g.Unit))
		return err
	}
	for _, c := range []error{
		within("set temperature", float64(r.Set), float64(LeastCredited), 138, "degC"),
		within("published minutes", r.Minutes, 1, LongestHold, "min"),
		within("span", float64(g.Unit.Over(g.Span)), 50e3, 1.6e6, "Pa"),
		within("line", g.Line, 1e-6, g.Span/4, string(g.Unit)),
		within("class", g.CountedClass(), 0, 10, "% of span"),
		within("limit", float64(r.Limit), 0, 6e5, "Pa"),
		within("least dose", r.LeastDose, 0.1, 60, "min"),
	} {
		if c != nil {
			return c
		}
	}
	return nil
}
