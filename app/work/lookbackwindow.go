package work

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// What is in the past of a comparison or of a load: who knew of what when it was made.

// foundOut are the entries that a load is lit in knowledge of: which gauge is on its pot, what its dial is, comparisons of that gauge that its plan counts, statements of its altitude, and what was called back of its pot. Of a slip only those from
// before its day count, for what was found out later was not known at the fire.
func (d *Desk) foundOut(pot Pot, c model.CycleBegun) (out []entry.ID, err error) {
	var all, pots []entry.Verified
	err = d.read(func(src register.Source) {
		pots = register.TargetingKind(src, model.Ref{Noun: model.NounSterilizer, ID: pot.ID}, model.KindSterilizer)
		for _, ref := range []model.Ref{{Noun: model.NounHeight, ID: pot.Looks.Site}, {Noun: model.NounSite, ID: pot.Looks.Site}, {Noun: model.NounSterilizer, ID: pot.ID}} {
			for _, v := range src.Targeting(ref) {
				if k := v.Body().Kind; src.Roster().Known(v) && !(ref.Noun == model.NounSite && src.Roster().Gone(v)) && !slices.ContainsFunc(all, func(w entry.Verified) bool { return w.ID() == v.ID() }) && (k == model.KindSite || k == model.KindRecall) {
					all = append(all, v)
				}
			}
		}
		gauge := model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}
		counts, taken := comparisonsInForce(src, gauge)
		for _, v := range counts {
			by, _ := register.ReferenceOff(src, v) // the plan counts by what they say
			all = append(all, by...)
		}
		dials := register.TargetingKind(src, gauge, model.KindGauge)
		for _, v := range src.Targeting(gauge) {
			if back, ok := backed(v); ok && slices.ContainsFunc(taken[back], func(w entry.Verified) bool { return w.ID() == v.ID() }) {
				all = append(all, v) // the plan counts by what it leaves
			} else if slices.ContainsFunc(counts, func(w entry.Verified) bool { return w.ID() == v.ID() || slices.Contains(w.Body().Replaces, v.ID()) }) {
				all = append(all, v)
			}
		}
		nothing := func(v entry.Verified) bool { return forNothing(src, v, c.Plan) }
		all, pots = slices.DeleteFunc(all, nothing), slices.DeleteFunc(slices.Concat(pots, dials), nothing)
	})
	if err != nil {
		return nil, err
	}
	if c.Source == model.FromPaper {
		if all, err = d.knownThen(all, c); err != nil {
			return nil, err
		}
	}
	_, stated, err := d.rulesWithEntries() // and what states the rules that its plan rests on
	if err != nil {
		return nil, err
	}
	for _, code := range append(slices.Clone(c.Plan.Policy), model.PolicyCompareEvery) { // by the last the comparison counts, or its class
		if id, ok := stated[code]; ok {
			out = append(out, id)
		}
	}
	for _, v := range append(all, pots...) { // a slip is told of in knowledge of all that was said of its gauge
		out = append(out, v.ID())
	}
	return out[max(0, len(out)-mostGrowths):], nil
}

// forNothing says of a word that counts no more that it asks for no more than a plan: the plan does not rest on it.
func forNothing(src register.Source, v entry.Verified, p model.FrozenPlan) bool {
	var site model.Site
	var dial model.GaugeLooks
	switch b := v.Body(); b.Kind {
	case model.KindSite:
		return register.CountsNoMore(src, v) && b.Decode(&site) == nil && site.RaisedPa == 0
	case model.KindGauge:
		return register.CountsNoMore(src, v) && b.Decode(&dial) == nil && dial.OverPa == 0
	case model.KindCompared:
		x, ok := comparedNow(src, v)
		return ok && !register.Vouches(src, v) && !x.takesBack() && x.WorstPa <= register.Counted(p)+register.DustPa
	}
	return false
}

// knownThen are those of some entries that were known at the fire of a slip: from before its day. Its plan is made by what counts when it is typed in, so of comparisons that found more
// than that only those are taken for known that had been replaced by its day.
func (d *Desk) knownThen(all []entry.Verified, c model.CycleBegun) (out []entry.Verified, err error) {
	for _, v := range all {
		at, known, err := d.Corrected(v)
		if err != nil {
			return nil, err
		}
		if known && !d.ClockDoubtful() && at.UnixMilli() < c.Begun {
			out = append(out, v)
		}
	}
	then := slices.Clone(out)
	return slices.DeleteFunc(out, func(v entry.Verified) bool {
		x, ok := comparedIn(v)
		return ok && x.WorstPa > register.Counted(c.Plan)+register.DustPa && !slices.ContainsFunc(then, func(w entry.Verified) bool { return slices.Contains(w.Body().Replaces, v.ID()) })
	}), nil
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
	c.Since, err = d.vouched(pot)
	return err
}

// vouched are the loads that the next comparison need not put in doubt: those in the past of the ones that it replaces, which found the gauge right for them.
func (d *Desk) vouched(pot Pot) (since []model.KnownUpTo, err error) {
	type word struct {
		says  model.Compared
		since []model.KnownUpTo
	}
	var words []word
	unread := false
	err = d.read(func(src register.Source) {
		st := register.Of(src, model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
		may := func(v entry.Verified) bool { return src.Roster().Allows(v) && register.Speaks(src, v, st.Ref) }
		back := register.TakenBack(st.Entries, src.Roster().Known)
		var all []entry.Verified
		for _, v := range st.Entries {
			c, ok := comparedNow(src, v)
			unread = unread || (v.Body().Kind == model.KindCompared && !ok)
			if ok && !c.takesBack() && back[v.ID()] == nil && may(v) {
				all = append(all, v)
			}
		}
		for _, v := range unnamed(all) {
			c, _ := comparedNow(src, v)
			words = append(words, word{c.Compared, register.WindowOf(src, v, c.Compared, st.Entries, back)})
		}
	})
	if err != nil || unread {
		return nil, err
	}
	for i, w := range words {
		knew := w.says.Knew
		w.says.Since = w.since
		if n, err := d.fallUnder(pot, w.says); err != nil {
			return nil, err
		} else if n > 0 { // it put loads in doubt itself: they stay in the window
			knew = w.since
		}
		if i == 0 {
			since = knew
			continue
		}
		since = register.BothKnew(since, knew) // made at once: only what both knew
	}
	return since, nil
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
