package work

import (
	"math"
	"slices"
	"strings"
	"time"

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
	Causes []FoundOut
}

// FoundOut is what was found out after a load was run.
type FoundOut struct {
	Code string  // gauge: showed too much; altitude: needs more
	Off  float64 // by how much, at the need; of an altitude, the need. In the unit of Unit
	Unit string
	When time.Time // zero: the date is in doubt
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
	found := []assess.Found{{}}
	var heights []assess.Found
	unread := false
	for _, h := range c.State.Holds {
		if !slices.Contains(doubts, h.Code) {
			continue
		}
		l.holds, l.causes = append(l.holds, h.ID), append(l.causes, h.Cause.ID())
		if h.Open() {
			l.Codes = append(l.Codes, h.Code)
		}
		var x model.Compared
		var s model.Site
		what := FoundOut{Code: "unread", Unit: c.Begun.Plan.Unit}
		if at, known, err := d.Corrected(h.Cause); err == nil && known {
			what.When = at
		}
		u := steam.Unit(c.Begun.Plan.Unit)
		switch {
		case h.Code == register.HoldGauge && h.Cause.Body().Decode(&x) == nil:
			what.Code, what.Off = "gauge", u.Of(steam.Over(x.WorstPa))
		case h.Code == register.HoldHeight && h.Cause.Body().Decode(&s) == nil:
			what.Code, what.Off = "altitude", u.Of(steam.Over(s.RaisedPa))
		}
		l.Causes = append(l.Causes, what)
		switch {
		case h.Code == register.HoldGauge && len(x.Points) > 0 && x.Gauge != nil:
			found = append(found, assess.Found{Points: x.Points, ReferenceMilli: x.ReferenceMilli, Unit: x.Gauge.Unit})
		case h.Code == register.HoldHeight && h.Cause.Body().Decode(&s) == nil:
			f, err := foundHeight(s)
			if err != nil {
				return l, err
			}
			heights = append(heights, f)
		default: // it says that something is wrong, and not what: nothing stands by it
			unread = true
		}
	}
	if len(l.holds) == 0 {
		l.Now = before
		return l, nil
	}
	all := slices.Clone(found)
	for _, h := range heights { // the altitude alone, and with each gauge
		for _, f := range found {
			f.NeedPa, f.NominalPa, f.LowPa, f.HighPa = h.NeedPa, h.NominalPa, h.LowPa, h.HighPa
			all = append(all, f)
		}
	}
	l.Stands = !unread
	for i, f := range all[1:] {
		r, err := assess.Judge(assess.LookBack(d.input(c), f))
		if err != nil {
			return l, err
		}
		stands := r.Verdict == model.Shown
		if i == 0 || (l.Stands && !stands) || (l.Stands == stands && r.Line > l.Now.Line) {
			l.Now = r
		}
		l.Stands = l.Stands && stands
	}
	if len(all) == 1 {
		l.Now = before
	}
	return l, nil
}

// foundHeight is what a load is judged by at an altitude.
func foundHeight(s model.Site) (f assess.Found, err error) {
	air, err := Air(s).Air()
	if err != nil {
		return f, wrap(err, "altitude")
	}
	n, err := need(s)
	return assess.Found{NeedPa: int64(math.Ceil(float64(n) - 1e-9)), NominalPa: int64(math.Round(float64(air.Nominal))), LowPa: int64(math.Floor(float64(air.Low))), HighPa: int64(math.Ceil(float64(air.High)))}, err
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
			x := entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.Cycle.State.Ref}, Clears: l.holds, Relies: append(l.Cycle.Evidence(), l.causes...), Payload: model.Clear{Reason: reason}}
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
		if r.Closed {
			continue
		}
		for _, l := range r.Loads {
			out[l.Cycle] = out[l.Cycle] || !r.Drill
		}
	}
	return out, err
}

// foundOut are the entries that a load is lit in knowledge of: comparisons of its gauge that its plan counts, statements of its altitude, and what was called back of its pot. Of a slip only those from
// before its day count, for what was found out later was not known at the fire.
func (d *Desk) foundOut(pot Pot, c model.CycleBegun) (out []entry.ID, err error) {
	var all []entry.Verified
	err = d.read(func(src register.Source) {
		for _, ref := range []model.Ref{{Noun: model.NounHeight, ID: pot.Looks.Site}, {Noun: model.NounSterilizer, ID: pot.ID}} {
			for _, v := range src.Targeting(ref) {
				if k := v.Body().Kind; src.Roster().Known(v) && (k == model.KindSite || k == model.KindRecall) {
					all = append(all, v)
				}
			}
		}
		gauge := model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}
		counts := comparisonsInForce(src, gauge)
		for _, v := range src.Targeting(gauge) {
			if slices.ContainsFunc(counts, func(w entry.Verified) bool { return w.ID() == v.ID() || slices.Contains(w.Body().Replaces, v.ID()) }) {
				all = append(all, v)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	for _, v := range all {
		if c.Source == model.FromPaper {
			at, known, err := d.Corrected(v)
			if err != nil {
				return nil, err
			}
			if !known || d.ClockDoubtful() || at.UnixMilli() >= c.Begun {
				continue
			}
		}
		out = append(out, v.ID())
	}
	return out[max(0, len(out)-mostGrowths):], nil
}

// inPast says what a comparison tells of loads made before it: the most that the gauge was found to show too much, and which loads the comparison before this one had in its past.
func (d *Desk) inPast(pot Pot, c *model.Compared) error {
	if err := d.worstAtLine(pot, c); err != nil {
		return err
	}
	var err error
	if c.Knew, _, err = d.knownOf(pot); err != nil {
		return err
	}
	bad, err := d.causesOf(pot)
	if err != nil {
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
			knew := x.Knew
			if bad[v.ID()] { // it put loads in doubt itself: they stay in the window
				knew = x.Since
			}
			if i == 0 {
				c.Since = knew
				continue
			}
			c.Since = slices.DeleteFunc(c.Since, func(k model.KnownUpTo) bool { // made at once: only what both knew
				return !slices.ContainsFunc(knew, func(o model.KnownUpTo) bool { return string(o.Stream) == string(k.Stream) && o.Seq >= k.Seq })
			})
		}
	})
}

// worstAtLine works out the most that a gauge was found to show too much where a load is judged: at the need of its place.
func (d *Desk) worstAtLine(pot Pot, c *model.Compared) error {
	p, err := d.Place()
	if err != nil {
		return err
	}
	n, err := need(p.Site)
	if err != nil {
		return err
	}
	u := steam.Unit(pot.Gauge.Unit)
	g := steam.Gauge{Unit: u, Span: float64(pot.Gauge.SpanMilli) / 1000, Standing: steam.Compared, ReferenceError: float64(c.ReferenceMilli) / 1000}
	for _, x := range c.Points {
		g.Corrections = append(g.Corrections, steam.Correction{At: float64(x.AtMilli) / 1000, Error: float64(x.ErrorMilli) / 1000})
	}
	line := g.Shown(n)
	if c.WorstPa = int64(math.Ceil(float64(u.Over(line)-g.True(line)+g.Error()) - 1e-6)); c.WorstPa == 0 {
		c.WorstPa = 1 // 0 is of old records
	}
	return nil
}

// causesOf are the entries that put a load of a pot in doubt, answered or not.
func (d *Desk) causesOf(pot Pot) (map[entry.ID]bool, error) {
	ids, err := d.Store.CyclesOf(pot.ID, mostLookedBack)
	if err != nil {
		return nil, d.unread(err)
	}
	out := map[entry.ID]bool{}
	err = d.read(func(src register.Source) {
		for _, id := range ids {
			for _, h := range register.Of(src, model.Ref{Noun: model.NounCycle, ID: id}).Holds {
				if h.Code == register.HoldGauge {
					out[h.Cause.ID()] = true
				}
			}
		}
	})
	return out, err
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
		if len(x.Begun.Packs) == 0 || x.Aborted() || len(x.Rejected) > 0 || x.Begun.Gauge != pot.Looks.Gauge || c.WorstPa <= register.Counted(x.Begun.Plan)+register.DustPa {
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

// raised states the need of an altitude where it is above that of anything that stood until now: plans that asked for less are in doubt, but for what weather and rounding make.
func raised(was []model.Site, now model.Site) (int64, error) {
	after, err := need(now)
	if err != nil {
		return 0, err
	}
	for _, s := range was {
		if before, err := need(s); err != nil {
			return 0, err
		} else if after > before {
			return int64(after) - softerPa, nil
		}
	}
	return 0, nil
}

// stood are the descriptions of our site by which a mark may have been made: every value that stands, and what other ways told.
func (d *Desk) stood(p Place) (out []model.Site, err error) {
	all, err := d.Heights()
	out = append(out, p.Site)
	for _, h := range all {
		s := p.Site
		s.HeightM, s.WithinM = h.HeightM, h.WithinM
		if !h.Settled { // one that was told and settled against made no mark
			out = append(out, s)
		}
	}
	return out, err
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
