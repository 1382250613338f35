package assess

import (
	"math"

	"mvuke/model"
	"mvuke/steam"
)

// Bare is what is told of a log that has no frozen plan.
type Bare struct {
	Site  steam.Site
	Unit  steam.Unit
	Item  model.Item
	Rules model.Policies
	Class *float64 // per cent of span; nil: not told; 0: exact, bare physics
	Span  float64  // dial's unit; 0: not told
	Line  float64  // 0: not told
	Rest  *float64 // nil: not told
}

// AssumedSpan is counted where nobody told the span: the longest dial usual on these pots,
// 4 bar (trade knowledge, from memory).
const AssumedSpan steam.Over = 400e3

// Plan makes a judging plan: the restart line is the bare need less the stated tolerance, the
// minutes are the published ones, and what had to be assumed is said.
func (b Bare) Plan() (in Input, err error) {
	var assumed reasons
	g := steam.Gauge{Unit: b.Unit, Span: b.Span, Line: b.Line, Class: -1, Standing: steam.Vouched}
	if g.Span == 0 {
		g.Span = math.Round(b.Unit.Of(AssumedSpan)*10) / 10
	}
	if g.Line == 0 {
		g.Line = b.Unit.UsualLine()
	}
	air, err := b.Site.Air()
	if err != nil {
		return Input{}, err
	}
	switch {
	case b.Class == nil:
		assumed.add(ClassAssumed, short(steam.WorstClass))
	default:
		g.Class = *b.Class
	}
	if g.CountedClass() == 0 {
		assumed.add(ExactGauge)
	} else {
		if b.Span == 0 {
			assumed.add(SpanAssumed, short(g.Span), string(b.Unit))
		}
		if b.Line == 0 {
			assumed.add(LineAssumed, short(g.Line), string(b.Unit))
		}
	}
	rest := int64(0)
	if b.Rest == nil {
		assumed.add(RestAssumed)
	} else {
		rest = milli(*b.Rest)
		if kind, off := g.AtRest(*b.Rest, air); kind == steam.RestAbsolute || kind == steam.RestShifted {
			g.Offset = off
		}
	}
	code := model.PolicyWrapped
	if b.Item == model.Unwrapped {
		code = model.PolicyUnwrapped
	}
	need, err := steam.Need(Set, air)
	if err != nil {
		return Input{}, err
	}
	line, err := steam.Need(Set-Tolerance, air)
	if err != nil {
		return Input{}, err
	}
	basis := Basis{VentMinutes: b.Rules.Value(model.PolicyVent), GapMinutes: b.Rules.Value(model.PolicyGap),
		DoseMilli: b.Rules.Value(model.PolicyDose), HeightM: int64(b.Site.Height), Policies: []string{code}}
	p := steam.Plan{Need: need, Restart: math.Ceil(g.Shown(line)*1000-1e-6) / 1000, Minutes: int(b.Rules.Value(code))}
	return Input{Plan: Freeze(steam.Request{Gauge: g, Air: air}, p, basis), Item: b.Item, Rest: &rest, Tolerant: true, Assumed: assumed}, nil
}
