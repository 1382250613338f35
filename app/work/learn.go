package work

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/register"
	"mvuke/steam"
	body "mvuke/steam/pot"
)

// What a pot has taught: its parameters from its own logged cycles, for advice only.

// learnFrom is how many of the latest cycles tell about a pot: an old pot is not what it was.
const learnFrom = 40

// learnt keeps what was worked out of closed cycles while the program runs: advice need not follow a correction at once.
type learnt struct {
	told   map[model.ID]body.Told
	none   map[model.ID]bool // closed, and tell nothing
	cycles []body.Told
	known  body.Known
}

// Learnt gives what a pot's own cycles tell about it, and those cycles, oldest first. Cycles on paper tell
// minutes too coarsely, cycles given up and practice tell nothing.
func (d *Desk) Learnt(pot model.ID) (body.Known, []body.Told, error) {
	ids, err := d.Store.CyclesOf(pot, learnFrom)
	if err != nil {
		return body.Known{}, nil, d.unread(err)
	}
	k := d.taught[pot]
	if k == nil {
		k = &learnt{told: map[model.ID]body.Told{}, none: map[model.ID]bool{}}
		if d.taught == nil {
			d.taught = map[model.ID]*learnt{}
		}
		d.taught[pot] = k
	}
	more := false
	for _, id := range ids {
		if _, have := k.told[id]; have || k.none[id] {
			continue
		}
		c, err := d.Cycle(id)
		if err != nil {
			return body.Known{}, nil, err
		}
		switch {
		case c.Closed == nil:
		case c.Aborted() || c.Paper || c.Begun.Source != model.Live || c.Begun.Practice:
			k.none[id] = true
		default:
			k.told[id], more = toldOf(c), true
		}
	}
	if more {
		k.cycles = nil
		for _, id := range slices.Backward(ids) {
			if t, ok := k.told[id]; ok {
				k.cycles = append(k.cycles, t)
			}
		}
		k.known = body.Learn(k.cycles)
	}
	return k.known, k.cycles, nil
}

// toldOf is a cycle as the pot's log tells it; what stands behind an interruption of unknown length tells nothing.
func toldOf(c register.Cycle) body.Told {
	f := c.Begun.Plan
	t := body.Told{Number: c.Begun.Number, Ambient: steam.Absolute(f.NominalPa), Water: float64(c.Begun.WaterML) / 1000, Left: math.NaN()}
	t.Lit, t.VentStart, t.VentEnd = at(c, model.StepLit), at(c, model.StepVentStart), at(c, model.StepVentEnd)
	t.Drawn, t.SteamOut, t.Zero = at(c, model.StepFireDrawn), at(c, model.StepSteamOut), at(c, model.StepZero)
	for _, s := range c.Steps {
		switch {
		case s.Unproven:
		case s.Code == model.StepTamed:
			t.Tamed = append(t.Tamed, minute(s.At))
		case s.Code == model.StepFireLow:
			t.Died = append(t.Died, minute(s.At))
		}
	}
	for _, r := range c.Readings {
		if r.Unproven {
			continue
		}
		if b, err := assess.Meaning(f, float64(r.NeedleMilli)/1000); err == nil {
			t.Looks = append(t.Looks, body.Seen{Minute: minute(r.At), T: b.Nominal})
		}
	}
	if b, err := assess.Meaning(f, float64(f.RestartMilli)/1000); err == nil {
		t.Line = b.Nominal
	}
	if c.Closed != nil && c.Closed.WaterLeftML > 0 {
		t.Left = float64(c.Closed.WaterLeftML) / 1000
	}
	return t
}

// lastStep is the minute of the latest step of a code; NaN: none.
func lastStep(c register.Cycle, code model.StepCode) float64 {
	at := math.NaN()
	for _, s := range c.Steps {
		if s.Code == code && !s.Unproven {
			at = minute(s.At)
		}
	}
	return at
}

// vented is how long steam streamed out, over all vents of the cycle, min.
func vented(c register.Cycle) (sum float64) {
	start := math.NaN()
	for _, s := range c.Steps {
		switch s.Code {
		case model.StepVentStart:
			start = minute(s.At)
		case model.StepVentEnd:
			if d := minute(s.At) - start; d > 0 {
				sum += d
			}
			start = math.NaN()
		}
	}
	return sum
}

func minute(ms int64) float64 { return float64(ms) / 60000 }

// at is the minute of a step; NaN where it was not taken or its time is not proven.
func at(c register.Cycle, code model.StepCode) float64 {
	s, ok := c.Step(code)
	if !ok || s.Unproven {
		return math.NaN()
	}
	return minute(s.At)
}

// Advice is what helps at the fire now, what is urgent first. It is never evidence and never enters a verdict.
func (d *Desk) Advice(c register.Cycle, held float64) ([]body.Advice, error) {
	known, _, err := d.Learnt(c.Begun.Sterilizer)
	if err != nil {
		return nil, err
	}
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	f, t := c.Begun.Plan, toldOf(c)
	n := body.Now{Minute: d.Elapsed(c).Minutes(), Ambient: t.Ambient, Lit: t.Lit, VentStart: t.VentStart, VentEnd: t.VentEnd, Drawn: t.Drawn,
		SteamOut: t.SteamOut, Zero: t.Zero, Opened: at(c, model.StepOpened), Looks: t.Looks, Line: t.Line, Minutes: float64(f.Minutes),
		Vent: float64(f.VentMinutes), Held: held, Water: t.Water, Ask: float64(rules.Value(model.PolicyAskEvery)), Vented: vented(c), Died: math.NaN(), Blows: at(c, model.StepBlowing)}
	n.Tamed, n.Fed = lastStep(c, model.StepTamed), lastStep(c, model.StepFed)
	for _, m := range t.Died {
		n.Died = m
	}
	for _, i := range c.Incidents {
		n.Under = n.Under || i.Code == model.OpenedUnderPressure
	}
	if _, dried := c.Step(model.StepDried); dried {
		return nil, nil
	}
	mark, err := assess.Meaning(f, float64(f.MarkMilli)/1000)
	if err != nil {
		return nil, nil // a dial that cannot be: the plan says so
	}
	n.Mark = mark.Nominal
	if f.LimitMilli > 0 {
		if b, err := assess.Meaning(f, float64(f.LimitMilli)/1000); err == nil {
			n.Limit = b.Nominal
		}
	}
	if b, err := assess.Meaning(f, float64(f.MarkMilli+f.LineMilli/2)/1000); err == nil {
		n.Eye = float64(b.Nominal - mark.Nominal)
	}
	return body.Advise(n, known), nil
}

// todayChanges says where a pot does not do what it used to.
func (d *Desk) todayChanges(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	for _, pot := range p.Pots {
		_, cycles, err := d.Learnt(pot.ID)
		if err != nil {
			return err
		}
		for _, x := range body.Changes(cycles) {
			u := Soon
			if x.Change == body.SlowerExhaust || x.Change == body.FasterRise {
				u = Now
			}
			add(u, "changed-"+string(x.Change), "taught", pot.ID, pot.Looks.Name, tenth(x.Seen), tenth(x.Usual))
		}
	}
	return nil
}

func tenth(v float64) string { return short(math.Round(v*10) / 10) }
