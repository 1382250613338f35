package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Planned is a plan for a pot here and now, with what it rests on.
type Planned struct {
	Plan   steam.Plan
	Frozen model.FrozenPlan
	Gauge  steam.Gauge
	Air    steam.Ambient
	Rules  model.Policies
	Item   model.Item
}

// Plan works out need, restart line, mark, limit and minutes for a pot of this site.
// rest is the needle at rest in thousandths of the dial's unit; nil: not looked at yet.
func (d *Desk) Plan(pot Pot, site model.Site, item model.Item, rest *int64) (Planned, error) {
	rules, err := d.Rules()
	if err != nil {
		return Planned{}, err
	}
	if len(pot.Also) > 0 {
		return Planned{}, refuse("two-gauges", pot.Looks.Name)
	}
	g, err := d.gauge(pot, rules)
	if err != nil {
		return Planned{}, err
	}
	if pot.TwoDials {
		return Planned{}, refuse("two-dials", pot.Looks.Name)
	}
	if site, err = d.unsettled(site); err != nil {
		return Planned{}, err
	}
	air, err := Air(site).Air()
	if err != nil {
		return Planned{}, wrap(err, "altitude")
	}
	if rest != nil {
		kind, off := g.AtRest(float64(*rest)/1000, air)
		if kind == steam.RestUnbounded {
			return Planned{}, refuse("needle-not-on-zero", short(float64(*rest)/1000), pot.Gauge.Unit)
		}
		g.Offset = off
	}
	return MakePlan(g, air, limit(pot.Looks), item, rules, site.HeightM)
}

// MakePlan makes and freezes a plan from its parts, for 121 degC.
func MakePlan(g steam.Gauge, air steam.Ambient, limit steam.Over, item model.Item, rules model.Policies, heightM int64) (Planned, error) {
	return MakePlanAt(assess.Set, g, air, limit, item, rules, heightM)
}

// MakePlanAt is MakePlan for another temperature, for asking only: cycles are planned at 121.
func MakePlanAt(set steam.Celsius, g steam.Gauge, air steam.Ambient, limit steam.Over, item model.Item, rules model.Policies, heightM int64) (Planned, error) {
	code := model.PolicyWrapped
	if item == model.Unwrapped {
		code = model.PolicyUnwrapped
	}
	b := assess.Basis{VentMinutes: rules.Value(model.PolicyVent), GapMinutes: rules.Value(model.PolicyGap),
		AskMinutes: rules.Value(model.PolicyAskEvery), DoseMilli: rules.Value(model.PolicyDose), HeightM: heightM,
		Policies: []string{code, model.PolicyVent, model.PolicyGap, model.PolicyDose}}
	r := steam.Request{Gauge: g, Air: air, Set: set, Minutes: float64(rules.Value(code)), Limit: limit,
		PerMinute: b.Promise(), LeastDose: float64(b.DoseMilli) / 1000}
	p, err := steam.Make(r)
	if err != nil {
		return Planned{}, wrap(err, "plan", err.Error())
	}
	return Planned{Plan: p, Frozen: assess.Freeze(r, p, b), Gauge: g, Air: air, Rules: rules, Item: item}, nil
}

// Air is what is known of a site's air.
func Air(s model.Site) steam.Site {
	return steam.Site{Height: steam.Metres(s.HeightM), Within: steam.Metres(s.WithinM), Weather: float64(s.WeatherPermille) / 1000}
}

// limit is the smaller of the valve's setting and the pot's own maximum.
func limit(s model.Sterilizer) steam.Over {
	switch {
	case s.ValvePa == 0:
		return steam.Over(s.LimitPa)
	case s.LimitPa == 0:
		return steam.Over(s.ValvePa)
	}
	return steam.Over(min(s.LimitPa, s.ValvePa))
}

// gauge is the dial with what its last comparison says.
func (d *Desk) gauge(pot Pot, rules model.Policies) (steam.Gauge, error) {
	x := pot.Gauge
	g := steam.Gauge{Unit: steam.Unit(x.Unit), Span: float64(x.SpanMilli) / 1000, Line: float64(x.LineMilli) / 1000,
		Class: float64(x.ClassMilli) / 1000, Standing: steam.Never}
	if x.ClassMilli < 0 {
		g.Class = -1
	}
	now, err := d.Date()
	if err != nil {
		return g, err
	}
	n, err := d.needHere()
	if err != nil {
		return g, err
	}
	doubt := d.ClockDoubtful()
	bare, first := g, true
	err = d.read(func(src register.Source) {
		force, taken := comparisonsInForce(src, model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
		for _, v := range force { // made at once: the one by which the needle must stand highest
			c, _ := comparedNow(src, v)
			x := bare
			age := now.Sub(time.UnixMilli(c.At))
			x.Standing = steam.Overdue
			if !doubt && register.Vouches(src, v) && taken[v.ID()] == nil && age >= 0 && age <= time.Duration(rules.Value(model.PolicyCompareEvery))*24*time.Hour {
				x.Standing = steam.Compared
			}
			if x = shownBy(x, c.Compared); first || higher(x, g, n) {
				g, first = x, false
			}
		}
	})
	return g, err
}

// shownBy is a gauge with what a comparison found.
func shownBy(g steam.Gauge, c model.Compared) steam.Gauge {
	g.ReferenceError, g.Corrections = float64(c.ReferenceMilli)/1000, nil
	for _, p := range c.Points {
		g.Corrections = append(g.Corrections, steam.Correction{At: float64(p.AtMilli) / 1000, Error: float64(p.ErrorMilli) / 1000})
	}
	return g
}

// higher says whether the needle must stand higher on a than on b for what is needed; where it need not, which may err more.
func higher(a, b steam.Gauge, n steam.Over) bool {
	if x, y := a.Shown(n), b.Shown(n); x != y {
		return x > y
	}
	return a.Error() > b.Error()
}

// needHere is the overpressure that is needed where our site is; 0: that is not known.
func (d *Desk) needHere() (steam.Over, error) {
	p, err := d.Place()
	if err != nil {
		return 0, err
	}
	n, err := need(p.Site)
	if err != nil { // whoever plans says so
		return 0, nil
	}
	return n, nil
}

// comparisonsInForce are those of a gauge by which a mark is made now: those that none replaces, with the dial as it is described, and what a device whose word counts no more found worse. taken are
// those that were taken back, each with what did so. Where no other counts they count on, as overdue ones do.
func comparisonsInForce(src register.Source, gauge model.Ref) (force []entry.Verified, taken map[entry.ID][]entry.Verified) {
	st := register.Of(src, gauge)
	values := register.Values(st, model.KindGauge)
	may := func(v entry.Verified) bool { return register.Speaks(src, v, st.Ref) && src.Roster().Allows(v) }
	var all, doubted []entry.Verified
	for _, v := range st.Entries {
		c, ok := comparedNow(src, v)
		if !ok || c.takesBack() || !register.Speaks(src, v, st.Ref) || len(c.Points) == 0 || c.ReferenceMilli < 0 || !ofDial(c.Compared, v, values) {
			continue
		}
		if may(v) {
			all = append(all, v)
		} else if slices.Contains(doubtedIDs(src, st), v.ID()) {
			doubted = append(doubted, v)
		}
	}
	taken = register.TakenBack(st.Entries, may)
	force = unnamed(all)
	left := slices.DeleteFunc(slices.Clone(force), func(v entry.Verified) bool { return taken[v.ID()] != nil })
	if len(left) == 0 {
		left = force
	}
	return append(left, doubted...), taken
}

// unnamed are those of some comparisons that no other of them names as replaced. One that is later of the same device and names it not was made beside it: so a reference opens two at once again.
func unnamed(vs []entry.Verified) []entry.Verified {
	return slices.DeleteFunc(slices.Clone(vs), func(v entry.Verified) bool {
		return slices.ContainsFunc(vs, func(w entry.Verified) bool { return w.ID() != v.ID() && slices.Contains(w.Body().Replaces, v.ID()) })
	})
}

// doubtedIDs are the comparisons of a gauge by devices whose word counts no more.
func doubtedIDs(src register.Source, st register.State) (out []entry.ID) {
	for _, v := range register.Doubted(src, st, model.KindCompared) {
		out = append(out, v.ID())
	}
	return out
}

// ofDial says whether a comparison was made with the dial that is described now, or with one of those where several were described at once. An old record that does not say so
// counts where it was made after the description.
func ofDial(c model.Compared, v entry.Verified, values []entry.Verified) bool {
	if c.Gauge == nil {
		return len(values) == 1 && entry.Less(values[0], v) < 0
	}
	return slices.ContainsFunc(values, func(w entry.Verified) bool {
		var now model.GaugeLooks
		return w.Body().Decode(&now) == nil && c.Gauge.Unit == now.Unit && c.Gauge.SpanMilli == now.SpanMilli && c.Gauge.Serial == now.Serial
	})
}
