package work

import (
	"math"
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Looking back: what a comparison, or an altitude that was put right, says of loads already made. The fold holds them in doubt by itself; here each is judged again by what is known
// now. What still stands is cleared by name, the rest is called back. What was judged before stays beside it.

// LookedBack is a load in doubt with both verdicts.
type LookedBack struct {
	Cycle  register.Cycle
	ID     model.ID
	Was    model.Judged
	Now    assess.Result
	Stands bool       // the readings show it all the same
	holds  []entry.ID // that put it in doubt
	causes []entry.ID
	Codes  []string
}

// Patients says whether the people it was used on are listed: the guaranteed dose, of what is known now, does not reach what the district asks for, or cannot be bounded.
func (l LookedBack) Patients() bool {
	return l.Now.Guaranteed == nil || *l.Now.Guaranteed*1000 < float64(l.Cycle.Begun.Plan.DoseMilli)
}

// doubts are the codes of holds that looking back answers.
var doubts = []string{register.HoldGauge, register.HoldHeight}

// InDoubt lists the loads of a pot that something found out later puts in doubt, oldest first, each judged anew.
func (d *Desk) InDoubt(pot model.ID) (out []LookedBack, err error) {
	ids, err := d.Store.CyclesOf(pot, mostLookedBack)
	if err != nil {
		return nil, d.unread(err)
	}
	for _, id := range slices.Backward(ids) {
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool { return h.Open() && slices.Contains(doubts, h.Code) }) || c.Aborted() || len(c.Rejected) > 0 {
			continue
		}
		l, err := d.LookBack(id)
		if err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, nil
}

// LookBack judges a load by everything that was found out of its gauge and altitude since: corrections come in any order, and the worst of each counts.
func (d *Desk) LookBack(id model.ID) (l LookedBack, err error) {
	c, err := d.Cycle(id)
	if err != nil {
		return l, err
	}
	l = LookedBack{Cycle: c, ID: id}
	before, err := d.Judge(c)
	if err != nil {
		return l, err
	}
	l.Was = before.Judged
	for _, v := range c.Released {
		var r model.Release
		if v.Body().Decode(&r) == nil { // as the release saw it
			l.Was = r.Judged
		}
	}
	var f assess.Found
	worst := int64(math.MinInt64)
	for _, h := range c.State.Holds {
		if !slices.Contains(doubts, h.Code) {
			continue
		}
		if h.Open() {
			l.holds, l.causes, l.Codes = append(l.holds, h.ID), append(l.causes, h.Cause.ID()), append(l.Codes, h.Code)
		}
		var x model.Compared
		var s model.Site
		switch {
		case h.Code == register.HoldGauge && h.Cause.Body().Decode(&x) == nil && x.WorstPa > worst:
			worst, f.Points, f.ReferenceMilli = x.WorstPa, x.Points, x.ReferenceMilli
		case h.Code == register.HoldHeight && h.Cause.Body().Decode(&s) == nil && s.RaisedPa > f.NeedPa:
			air, err := Air(s).Air()
			if err != nil {
				return l, wrap(err, "altitude")
			}
			f.NeedPa, f.NominalPa, f.LowPa, f.HighPa = s.RaisedPa, int64(math.Round(float64(air.Nominal))), int64(math.Floor(float64(air.Low))), int64(math.Ceil(float64(air.High)))
		}
	}
	l.Now, err = assess.Judge(assess.LookBack(d.input(c), f))
	l.Stands = err == nil && l.Now.Verdict == model.Shown
	return l, err
}

// Settled is what came of looking back on a pot.
type Settled struct{ Stood, Called int }

// SettleDoubt answers for the loads of a pot that are in doubt: those that stand are cleared by name, the others are called back. The one in charge answers for it.
func (d *Desk) SettleDoubt(pot model.ID, reason string) (out Settled, err error) {
	if err := d.mayManage(); err != nil {
		return out, err
	}
	if reason = strings.TrimSpace(reason); reason == "" {
		return out, refuse("reason-missing")
	}
	all, err := d.InDoubt(pot)
	if err != nil {
		return out, err
	}
	called, err := d.calledBack()
	if err != nil {
		return out, err
	}
	var drafts []entry.Draft
	fall := map[model.RecallWhy][]model.ID{}
	for _, l := range all {
		switch {
		case l.Stands:
			x := entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.Cycle.State.Ref}, Clears: l.holds, Relies: l.causes, Payload: model.Clear{Reason: reason}}
			if err := d.read(func(src register.Source) { x.Relies = append(x.Relies, d.authority(src, l.Cycle.State.Ref)...) }); err != nil {
				return out, err
			}
			drafts, out.Stood = append(drafts, x), out.Stood+1
		case !called[l.ID]:
			why := model.RecallGauge
			if !slices.Contains(l.Codes, register.HoldGauge) {
				why = model.RecallAltitude
			}
			fall[why], out.Called = append(fall[why], l.ID), out.Called+1
		}
	}
	for _, why := range model.RecallWhys {
		if len(fall[why]) == 0 {
			continue
		}
		x, err := d.recallDraft(d.NewID(), RecallForm{Why: why, Loads: fall[why], Pot: pot, Reason: reason}, nil)
		if err != nil {
			return out, err
		}
		drafts = append(drafts, x)
	}
	if len(drafts) == 0 {
		return out, refuse("nothing-to-clear")
	}
	_, err = d.sign(drafts...)
	return out, err
}

// calledBack are the loads of recalls that are not over.
func (d *Desk) calledBack() (map[model.ID]bool, error) {
	all, err := d.Recalls()
	out := map[model.ID]bool{}
	for _, r := range all {
		for _, l := range r.Loads {
			out[l.Cycle] = out[l.Cycle] || !r.Drill
		}
	}
	return out, err
}

// foundOut are the entries that a load is lit in knowledge of: comparisons of its gauge and statements of its altitude. Of a slip only those from before its day count, for
// what was found out later was not known at the fire.
func (d *Desk) foundOut(gauge, site model.ID, c model.CycleBegun) (out []entry.ID, err error) {
	doubt := d.ClockDoubtful()
	err = d.read(func(src register.Source) {
		for _, ref := range []model.Ref{{Noun: model.NounGauge, ID: gauge}, {Noun: model.NounHeight, ID: site}} {
			for _, v := range src.Targeting(ref) {
				if !src.Roster().Known(v) {
					continue
				}
				if c.Source == model.FromPaper && (doubt || v.Body().Wall >= c.Begun) {
					continue
				}
				if k := v.Body().Kind; k == model.KindCompared || k == model.KindSite {
					out = append(out, v.ID())
				}
			}
		}
	})
	return out[max(0, len(out)-mostGrowths):], err
}

// inPast says what a comparison tells of loads made before it: the most that the gauge was found to show too much, and which loads the comparison before this one had in its past.
func (d *Desk) inPast(pot Pot, c *model.Compared) error {
	worst := int64(0)
	for _, p := range c.Points {
		worst = max(worst, p.ErrorMilli+c.ReferenceMilli)
	}
	c.WorstPa = int64(math.Ceil(float64(steam.Unit(pot.Gauge.Unit).Over(float64(worst)/1000)) - 1e-6))
	var err error
	if c.Knew, _, err = d.knownOf(pot); err != nil {
		return err
	}
	return d.read(func(src register.Source) {
		st := register.Of(src, model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
		var before []entry.Verified
		for _, v := range st.Entries {
			if v.Body().Kind == model.KindCompared && src.Roster().Allows(v) && register.Speaks(src, v, st.Ref) {
				before = append(before, v)
			}
		}
		for i, v := range register.Unreplaced(before) {
			var x model.Compared
			if v.Body().Decode(&x) != nil || (i > 0 && len(c.Since) == 0) {
				c.Since = nil
				return
			}
			if i == 0 {
				c.Since = x.Knew
				continue
			}
			c.Since = slices.DeleteFunc(c.Since, func(k model.KnownUpTo) bool { // made at once: only what both knew
				return !slices.ContainsFunc(x.Knew, func(o model.KnownUpTo) bool { return string(o.Stream) == string(k.Stream) && o.Seq >= k.Seq })
			})
		}
	})
}

// doubtedBy counts the loads of a pot that a comparison would put in doubt.
func (d *Desk) doubtedBy(pot Pot, c model.Compared) (n int, err error) {
	if err := d.inPast(pot, &c); err != nil {
		return 0, err
	}
	ids, err := d.Store.CyclesOf(pot.ID, mostLookedBack)
	if err != nil {
		return 0, d.unread(err)
	}
	for _, id := range ids {
		x, err := d.Cycle(id)
		if err != nil {
			return 0, err
		}
		if len(x.Begun.Packs) == 0 || x.Aborted() || len(x.Rejected) > 0 || x.Begun.Gauge != pot.Looks.Gauge || c.WorstPa <= max(x.Begun.Plan.CountedPa, x.Begun.Plan.ErrorPa) {
			continue
		}
		var covered bool
		if err := d.read(func(src register.Source) { covered = register.Covers(src, c.Since, x.Entry) }); err != nil {
			return 0, err
		}
		if !covered {
			n++
		}
	}
	return n, nil
}

// raised states the need of an altitude where it is above that of what stood until now: plans that asked for less are in doubt, but for what weather and rounding make.
func raised(was, now model.Site) (int64, error) {
	before, err := need(was)
	if err != nil {
		return 0, err
	}
	after, err := need(now)
	if err != nil || after <= before {
		return 0, err
	}
	return int64(after) - softerPa, nil
}

func need(s model.Site) (steam.Over, error) {
	air, err := Air(s).Air()
	if err != nil {
		return 0, wrap(err, "altitude")
	}
	n, err := steam.Need(assess.Set, air)
	if err != nil {
		return 0, wrap(err, "altitude")
	}
	return n, nil
}

// todayDoubt says how many loads of a pot are in doubt and wait for somebody to look back.
func (d *Desk) todayDoubt(p Place, called map[model.ID]bool, add func(Urgency, string, string, model.ID, ...string)) error {
	for _, pot := range p.Pots {
		ids, err := d.openCycles()
		if err != nil {
			return err
		}
		n := 0
		for _, id := range ids {
			c, err := d.Cycle(id)
			if err != nil {
				return err
			}
			if c.Begun.Sterilizer == pot.ID && !called[id] && slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool { return h.Open() && slices.Contains(doubts, h.Code) }) {
				n++
				called[id] = true // one line says it
			}
		}
		if n > 0 {
			add(Stop, "in-doubt", "lookback", pot.ID, short(float64(n)))
		}
	}
	return nil
}
