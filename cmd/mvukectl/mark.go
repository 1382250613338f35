package main

import (
	"math"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/steam"
)

type markOut struct {
	AmbientKPa     float64           `json:"ambientKPa"`
	NeedKPa        float64           `json:"needKPa"`
	Unit           steam.Unit        `json:"unit"`
	Need           float64           `json:"need"`
	Restart        *float64          `json:"restart"`
	Mark           *float64          `json:"mark"`
	Limit          *float64          `json:"limit"`
	PlannedMinutes *int              `json:"plannedMinutes"`
	Allowances     []allowance       `json:"allowances"`
	Refused        *refused          `json:"refused"`
	AtMarkC        []float64         `json:"temperatureAtMark,omitempty"` // least, nominal, most, if the air is out
	Assumed        []reason          `json:"assumed"`
	Cautions       []string          `json:"cautions"`
	Plan           *model.FrozenPlan `json:"plan"` // frozen, for assess --plan
	Item           model.Item        `json:"item"`
}

type allowance struct {
	Name string  `json:"name"`
	KPa  float64 `json:"kPa"`
}

type refused struct {
	Code    string   `json:"code"`
	Text    string   `json:"text"`
	Tonight []string `json:"tonight"`
}

type reason struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

func (t *tool) mark(args []string) int {
	f := t.flags("mark")
	var p place
	p.add(f)
	f.Var(&p.line, "line", "distance of the lines on the dial, in its unit")
	temp, limit := number{v: float64(assess.Set)}, number{}
	f.Var(&temp, "temp", "temperature asked for, degC (default 121)")
	f.Var(&limit, "limit", "most that the pot may hold, or its safety valve's setting, in the dial's unit")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	out, err := t.makeMark(&p, temp.v, limit)
	if err != nil {
		return t.bad(err)
	}
	w := t.words
	if out.Refused == nil {
		f.say("%s · %s · %s", w.Say("plan.keep", w.Number(*out.Mark, 3)+" "+string(out.Unit)), w.Say("card.below", w.Number(*out.Restart, 3), w.Number(float64(*out.PlannedMinutes), 0)), w.Say("plan.minutes", w.Number(float64(*out.PlannedMinutes), 0)))
	} else {
		f.say("%s", out.Refused.Text)
	}
	f.say("%s", w.Say("caution.line"))
	return t.print(out)
}

func (t *tool) makeMark(p *place, temp float64, limit number) (out markOut, err error) {
	site, err := p.site()
	if err != nil {
		return out, err
	}
	g, assumed, err := p.gauge()
	if err != nil {
		return out, err
	}
	item, err := parseItem(p.item)
	if err != nil {
		return out, err
	}
	air, err := site.Air()
	if err != nil {
		return out, err
	}
	planned, err := work.MakePlanAt(steam.Celsius(temp), g, air, g.Unit.Over(limit.v), item, model.Rules(nil), int64(site.Height))
	if err != nil {
		return out, err
	}
	return t.markOut(planned, assumed), nil
}

func (t *tool) markOut(p work.Planned, assumed []model.Reason) markOut {
	out := markOut{AmbientKPa: round3(p.Air.Nominal.KPa()), NeedKPa: round3(p.Plan.Need.KPa()), Unit: p.Gauge.Unit, Need: p.Plan.NeedShown,
		Allowances: []allowance{}, Assumed: t.reasons(assumed), Item: p.Item,
		Cautions: []string{t.words.Say("caution.open"), t.words.Say("caution.chamber"), t.words.Say("caution.line")}}
	if p.Plan.Limit != 0 {
		out.Limit = &p.Plan.Limit
	}
	for _, a := range p.Plan.Allowances {
		out.Allowances = append(out.Allowances, allowance{a.Name, round3(a.Over.KPa())})
	}
	if p.Plan.Limit == 0 {
		out.Assumed = append(out.Assumed, t.reasons([]model.Reason{{Code: "limit-unknown"}})...)
	}
	if r := p.Plan.Refused; r != nil {
		out.Refused = &refused{Code: r.Code, Text: t.refusal(r, p.Gauge.Unit)}
		for _, n := range r.Tonight {
			out.Refused.Tonight = append(out.Refused.Tonight, t.words.Say("tonight."+n))
		}
		return out
	}
	out.Restart = &p.Plan.Restart
	out.Mark, out.PlannedMinutes = &p.Plan.Mark, &p.Plan.Minutes
	if p.Plan.Need == need121(p.Air) { // a cycle is judged by a plan for 121 degC, or by none
		out.Plan = &p.Frozen
	}
	b := p.Plan.AtMark
	out.AtMarkC = []float64{round2(float64(b.Low)), round2(float64(b.Nominal)), round2(float64(b.High))}
	return out
}

// need121 is the need for the temperature that cycles are judged by.
func need121(air steam.Ambient) steam.Over {
	n, err := steam.Need(assess.Set, air)
	if err != nil {
		return -1
	}
	return n
}

func (t *tool) refusal(r *steam.Refusal, u steam.Unit) string {
	n := t.words.Number
	return t.words.Say("refused."+r.Code, n(r.Need, 2), n(r.Limit, 2), string(u), n(float64(r.At), 1))
}

func (t *tool) reasons(list []model.Reason) []reason {
	out := []reason{}
	for _, r := range list {
		out = append(out, reason{r.Code, t.words.Say("reason."+r.Code, r.Args...)})
	}
	return out
}

func round2(v float64) float64 { return math.Round(v*100) / 100 }
func round3(v float64) float64 { return math.Round(v*1000) / 1000 }
