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
			if bad[v.ID()] && len(x.Withdraws) == 0 { // it put loads in doubt itself: they stay in the window
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
	return d.fallUnder(pot, c)
}

// fallUnder counts the loads of a pot whose plan allowed for less than a comparison says, but for those before its window.
func (d *Desk) fallUnder(pot Pot, c model.Compared) (n int, err error) {
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
