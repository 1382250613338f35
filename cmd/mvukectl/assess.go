package main

import (
	"encoding/json"
	"fmt"
	"os"

	"mvuke/app/tables"
	"mvuke/model"
	"mvuke/model/assess"
)

type assessOut struct {
	Verdict           model.Verdict `json:"verdict"`
	HeldMinutes       float64       `json:"heldMinutes"`
	RequiredMinutes   float64       `json:"requiredMinutes"`
	EquivalentMinutes float64       `json:"equivalentMinutes"` // at 121.0 degC, information
	F0                float64       `json:"f0"`                // reference 121.1 degC, z = 10 K
	F0Guaranteed      *float64      `json:"f0Guaranteed"`      // null: cannot be bounded
	Reasons           []reason      `json:"reasons"`
	Rule              string        `json:"rule"`
	Line              float64       `json:"restartLine"`
	Caution           string        `json:"caution"`
}

// Exit codes of assess.
var verdictCode = map[model.Verdict]int{model.Shown: 0, model.NotKnown: 3, model.Failed: 4}

func (t *tool) assess(args []string) int {
	f := t.flags("assess")
	f.word = true
	var p place
	var plan string
	p.add(f)
	f.Var(&p.rest, "rest", "needle at rest, lid open and cold, in the dial's unit")
	f.StringVar(&plan, "plan", "", "plan frozen by: mvukectl mark ... > MARK.json")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if len(f.rest) != 1 {
		return t.bad(wrong("one-log"))
	}
	in, span, err := p.input(plan)
	if err != nil {
		return t.bad(err)
	}
	file, err := os.Open(f.rest[0])
	if err != nil {
		return t.bad(wrong("log-unopened", err.Error()))
	}
	defer file.Close()
	log, err := tables.ReadLog(file, span)
	if err != nil {
		return t.bad(fmt.Errorf("%s, %w", f.rest[0], err))
	}
	in.Readings, in.Steps = log.Readings, log.Steps
	if log.Practice {
		in.Assumed = append(in.Assumed, model.Reason{Code: assess.Practised})
	}
	r, err := assess.Judge(in)
	if err != nil {
		return t.bad(wrong("beyond-steam", f.rest[0], err.Error()))
	}
	out := assessOut{Verdict: r.Verdict, HeldMinutes: round3(r.Held), RequiredMinutes: r.Asked, EquivalentMinutes: round3(r.E121), F0: round3(r.F0),
		Reasons: t.reasons(r.Reasons), Rule: r.Rule, Line: r.Line, Caution: t.words.Say("caution.chamber") + " " + t.words.Say("caution.line")}
	if r.Guaranteed != nil {
		g := float64(r.GuaranteedMilli) / 1000
		out.F0Guaranteed = &g
	}
	f.say("%s (%s)", t.words.Say("verdict."+string(r.Verdict)), t.words.Say("verdict.if"))
	for _, x := range out.Reasons {
		f.say("- %s", x.Text)
	}
	if c := t.print(out); c != 0 {
		return c
	}
	if log.Practice && r.Verdict == model.Shown {
		return verdictCode[model.NotKnown] // nothing of practice was sterilized
	}
	return verdictCode[r.Verdict]
}

// input is what a verdict rests on, without the log; span bounds its figures, 0: not known.
func (p *place) input(plan string) (in assess.Input, span float64, err error) {
	if plan != "" {
		return p.frozen(plan)
	}
	site, err := p.site()
	if err != nil {
		return in, 0, err
	}
	u, err := p.dialUnit()
	if err != nil {
		return in, 0, err
	}
	item, err := parseItem(p.item)
	if err != nil {
		return in, 0, err
	}
	b := assess.Bare{Site: site, Unit: u, Item: item, Rules: model.Rules(nil), Span: p.span.v, Line: p.line.v}
	if p.class.set {
		if p.class.v < 0 || p.class.v > 10 {
			return in, 0, wrong("class", fmt.Sprint(p.class.v))
		}
		b.Class = &p.class.v
	}
	if p.rest.set {
		b.Rest = &p.rest.v
	}
	in, err = b.Plan()
	return in, p.span.v, err
}

// frozen judges by the plan that was made before lighting.
func (p *place) frozen(path string) (in assess.Input, span float64, err error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return in, 0, wrong("plan-unopened", err.Error())
	}
	var m markOut
	if err := json.Unmarshal(raw, &m); err != nil {
		return in, 0, wrong("no-plan", path)
	}
	if m.Plan == nil || m.Plan.RestartMilli <= 0 || m.Plan.Minutes <= 0 {
		return in, 0, wrong("plan-empty", path)
	}
	if err := assess.CheckPlan(*m.Plan, m.Item, model.Rules(nil)); err != nil {
		return in, 0, fmt.Errorf("%s: %w", path, err)
	}
	if p.unit != "" {
		if u, err := p.dialUnit(); err != nil {
			return in, 0, err
		} else if string(u) != m.Plan.Unit {
			return in, 0, wrong("unit-switched", m.Plan.Unit, string(u))
		}
	}
	in = assess.Input{Plan: *m.Plan, Item: m.Item}
	rest := int64(0)
	if p.rest.set {
		rest = int64(p.rest.v*1000 + 0.5)
	} else {
		in.Assumed = append(in.Assumed, model.Reason{Code: assess.RestAssumed})
	}
	in.Rest = &rest
	return in, float64(m.Plan.SpanMilli) / 1000, nil
}
