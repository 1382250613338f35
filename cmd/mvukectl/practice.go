package main

import (
	"encoding/json"
	"os"
	"slices"
	"strconv"
	"strings"

	"mvuke/app/practice"
	"mvuke/app/tables"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/steam"
	"mvuke/steam/pot"
)

type practiceOut struct {
	Practice       bool          `json:"practice"` // always true: nothing of it is a record
	Seed           uint64        `json:"seed"`
	Hand           string        `json:"hand"`
	Mishaps        []pot.Mishap  `json:"mishaps"`
	Verdict        model.Verdict `json:"verdict"` // what the readings show
	Reasons        []reason      `json:"reasons"`
	F0Guaranteed   *float64      `json:"f0Guaranteed"`
	TrueF0         float64       `json:"trueF0"`     // chamber, reference 121.1 degC, z = 10 K
	TrueF0Pack     float64       `json:"trueF0Pack"` // inside the packs
	TruePackMax    float64       `json:"truePackMaxC"`
	TrueAir        float64       `json:"trueAirAtHold"`
	TruePackAir    float64       `json:"truePackAirAtHold"`
	WaterLeftKg    float64       `json:"waterLeftKg"`
	BoiledDry      bool          `json:"boiledDry"`
	WoodKg         float64       `json:"fuelKg"`
	Minutes        float64       `json:"minutes"`
	Mark           float64       `json:"mark"`
	Restart        float64       `json:"restartLine"`
	PlannedMinutes int           `json:"plannedMinutes"`
	Caution        string        `json:"caution"`
}

func (t *tool) practice(args []string) int {
	f := t.flags("practice")
	var p place
	p.add(f)
	f.Var(&p.line, "line", "distance of the lines on the dial, in its unit (default 5)")
	limit := number{v: 180}
	f.Var(&limit, "limit", "most that the pot may hold, in the dial's unit (default 180 kPa)")
	var hand, mishaps, planFile string
	var asCSV, truth bool
	var seedText string
	f.StringVar(&seedText, "seed", "1", "a whole number; the same seed gives the same cycle")
	f.StringVar(&hand, "hand", "steady", "who is at the pot: "+strings.Join(pot.HandNames, ", "))
	f.StringVar(&mishaps, "mishap", "", "what goes wrong, joined by commas: "+joined(pot.Mishaps))
	f.BoolVar(&asCSV, "csv", false, "print the log, as assess reads it")
	f.BoolVar(&truth, "truth", false, "with --csv: also what was true, a row a minute")
	f.StringVar(&planFile, "plan", "", "file to write the plan to, for: mvukectl assess LOG.csv --plan FILE")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	seed, err := strconv.ParseUint(seedText, 10, 64)
	if err != nil {
		return t.bad(wrong("seed", seedText))
	}
	if truth && !asCSV {
		return t.bad(wrong("truth"))
	}
	set, err := p.practised(seed, hand, mishaps, limit)
	if err != nil {
		return t.bad(err)
	}
	s, err := practice.Simulate(set)
	if err != nil {
		return t.bad(err)
	}
	if planFile != "" {
		if err := t.writePlan(planFile, s); err != nil {
			return t.failed(err)
		}
	}
	f.say("%s", t.words.Say("practice.mark"))
	if asCSV {
		log := tables.Log{Readings: s.Readings, Steps: s.Steps, Practice: true}
		if err := tables.WriteLog(t.out, log, s.Planned.Frozen.RestartMilli, trueRows(s, truth)); err != nil {
			return t.failed(wrong("log-unwritten", err.Error()))
		}
		return 0
	}
	return t.practised(s, seed, hand, set.Mishaps)
}

func (t *tool) practised(s practice.Simulated, seed uint64, hand string, mishaps []pot.Mishap) int {
	r, err := assess.Judge(s.Input())
	if err != nil {
		return t.failed(err)
	}
	o := s.Outcome
	return t.print(practiceOut{Practice: true, Seed: seed, Hand: hand, Mishaps: append([]pot.Mishap{}, mishaps...), Verdict: r.Verdict,
		Reasons: t.reasons(r.Reasons), F0Guaranteed: r.Guaranteed, TrueF0: round3(o.F0), TrueF0Pack: round3(o.F0Pack), TruePackMax: round2(float64(o.PackMax)),
		TrueAir: round3(o.AirAtHold), TruePackAir: round3(o.PackAir), WaterLeftKg: round3(o.WaterLeft), BoiledDry: o.Dry, WoodKg: round2(o.Burnt),
		Minutes: round2(o.Minutes), Mark: s.Planned.Plan.Mark, Restart: s.Planned.Plan.Restart, PlannedMinutes: s.Planned.Plan.Minutes,
		Caution: t.words.Say("practice.mark") + " " + t.words.Say("caution.line")})
}

// practised are place, dial and hand as the flags tell; an ordinary dial where they do not.
func (p *place) practised(seed uint64, hand, mishaps string, limit number) (s practice.Setup, err error) {
	if p.unit == "" {
		p.unit = string(steam.KPa)
	}
	site, err := p.site()
	if err != nil {
		return s, err
	}
	u, err := p.dialUnit()
	if err != nil {
		return s, err
	}
	if !p.span.set {
		p.span = number{roundTo(u.Of(250e3), u), true}
	}
	if !p.line.set {
		p.line = number{u.UsualLine(), true}
	}
	if !p.class.set {
		p.class = number{2.5, true}
	}
	if !limit.set {
		limit.v = u.Of(180e3)
	}
	g, _, err := p.gauge()
	if err != nil {
		return s, err
	}
	item, err := parseItem(p.item)
	if err != nil {
		return s, err
	}
	h, ok := pot.Hands3[hand]
	if !ok {
		return s, wrong("hand", hand, strings.Join(pot.HandNames, ", "))
	}
	s = practice.Setup{Seed: seed, Site: site, Gauge: g, Limit: u.Over(limit.v), Hand: h, Item: item}
	for _, m := range strings.FieldsFunc(mishaps, func(r rune) bool { return r == ',' || r == ' ' }) {
		if !slices.Contains(pot.Mishaps, pot.Mishap(m)) {
			return s, wrong("mishap", string(m), joined(pot.Mishaps))
		}
		s.Mishaps = append(s.Mishaps, pot.Mishap(m))
	}
	return s, nil
}

func (t *tool) writePlan(file string, s practice.Simulated) error {
	b, err := json.MarshalIndent(t.markOut(s.Planned, nil), "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(file, append(b, '\n'), 0o644); err != nil {
		return wrong("plan-unwritten", err.Error())
	}
	return nil
}

func trueRows(s practice.Simulated, wanted bool) []tables.True {
	if !wanted {
		return nil
	}
	out := []tables.True{}
	for _, x := range s.Outcome.Truth {
		out = append(out, tables.True{Minute: x.Minute, Chamber: float64(x.Chamber), Pack: float64(x.Pack), Air: x.Air, Overkpa: x.Over.KPa(),
			PackAir: x.PackAir, WaterKg: x.Water, HeatedWatts: x.Heat})
	}
	return out
}

func joined[T ~string](list []T) string {
	var out []string
	for _, x := range list {
		out = append(out, string(x))
	}
	return strings.Join(out, ", ")
}

// roundTo is a round end of a dial: whole lines.
func roundTo(v float64, u steam.Unit) float64 {
	l := u.UsualLine()
	return float64(int(v/l+0.5)) * l
}
