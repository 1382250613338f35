package work

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Taking a comparison back: it was of another gauge, or its figures were written wrongly. What takes it back says what is known of the gauge without it: by the comparison that still counts, or, where
// there is none, as of a gauge whose comparison is overdue, until it is compared again. Loads that it put in doubt stay so until they are looked back on, now by what is known without it; loads that
// were planned by it are in doubt from now on. Nothing that was written goes.

// Comparison is one comparison of a gauge, as its list shows it.
type Comparison struct {
	ID        entry.ID
	When      time.Time // zero: the date is in doubt
	Points    []model.FrozenCorrection
	Unit      string
	Counts    bool      // marks are made by it
	Withdrawn time.Time // when it was taken back; zero: it was not, or the date is in doubt
	Gone      bool      // it was taken back
	Reason    string    // why
}

// saidOf is a comparison as it was written.
type saidOf struct{ model.Compared }

// takesBack says that it is no comparison, but takes one back.
func (c saidOf) takesBack() bool { return len(c.Withdraws) > 0 }

func comparedIn(v entry.Verified) (c saidOf, ok bool) {
	return c, v.Body().Kind == model.KindCompared && v.Body().Decode(&c.Compared) == nil
}

// takenBack gives what took which comparison back, by those who may.
func takenBack(may func(entry.Verified) bool, vs []entry.Verified) map[entry.ID][]entry.Verified {
	out := map[entry.ID][]entry.Verified{}
	for _, v := range vs {
		if c, ok := comparedIn(v); ok && len(c.Withdraws) == len(entry.ID{}) && strings.TrimSpace(c.Reason) != "" && may(v) {
			out[entry.ID(c.Withdraws)] = append(out[entry.ID(c.Withdraws)], v)
		}
	}
	return out
}

// withdrawals are the entries that take a comparison back.
func (d *Desk) withdrawals(of entry.Verified) (out []entry.Verified, err error) {
	if _, ok := comparedIn(of); !ok {
		return nil, nil
	}
	err = d.read(func(src register.Source) {
		for _, r := range of.Body().Refs() {
			if r.Noun != model.NounGauge {
				continue
			}
			may := func(v entry.Verified) bool { return src.Roster().Allows(v) && register.Speaks(src, v, r) }
			out = append(out, takenBack(may, src.Targeting(r))[of.ID()]...)
		}
	})
	return out, err
}

// Comparisons lists those of the gauge of a pot, newest first.
func (d *Desk) Comparisons(pot Pot) (out []Comparison, err error) {
	ref := model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}
	st, err := d.noun(ref)
	if err != nil {
		return nil, err
	}
	var force []entry.Verified
	if err := d.read(func(src register.Source) { force = comparisonsInForce(src, ref) }); err != nil {
		return nil, err
	}
	gone := takenBack(d.allows, st.Entries)
	for _, v := range slices.Backward(st.Entries) {
		c, ok := comparedIn(v)
		if !ok || c.takesBack() {
			continue
		}
		x := Comparison{ID: v.ID(), Points: c.Points, Unit: pot.Gauge.Unit, Gone: len(gone[v.ID()]) > 0,
			Counts: slices.ContainsFunc(force, func(w entry.Verified) bool { return w.ID() == v.ID() })}
		if c.Gauge != nil {
			x.Unit = c.Gauge.Unit
		}
		if at, known, err := d.Corrected(v); err == nil && known {
			x.When = at
		}
		for _, w := range gone[v.ID()] {
			by, _ := comparedIn(w)
			x.Reason = by.Reason
			if at, known, err := d.Corrected(w); err == nil && known {
				x.Withdrawn = at
			}
		}
		out = append(out, x)
	}
	return out, nil
}

// Withdraw takes a comparison back, for a reason.
func (d *Desk) Withdraw(pot Pot, id entry.ID, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if reason = strings.TrimSpace(reason); reason == "" {
		return refuse("reason-missing")
	}
	c, replaces, err := d.without(pot, id)
	if err != nil {
		return err
	}
	c.Reason = reason
	_, err = d.sign(entry.Draft{Kind: model.KindCompared, Payload: c, Replaces: replaces,
		Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}, {Noun: model.NounSterilizer, ID: pot.ID}}})
	return err
}

// CheckWithdraw counts the loads that taking a comparison back puts in doubt.
func (d *Desk) CheckWithdraw(pot Pot, id entry.ID) (inDoubt int, err error) {
	c, _, err := d.without(pot, id)
	if err != nil {
		return 0, err
	}
	return d.fallUnder(pot, c)
}

// without is what is known of the gauge of a pot without one of its comparisons.
func (d *Desk) without(pot Pot, id entry.ID) (c model.Compared, replaces []entry.ID, err error) {
	ref := model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}
	bad, err := d.causesOf(pot)
	if err != nil {
		return c, nil, err
	}
	var gone saidOf
	var left, force []entry.Verified
	found, again := false, false
	err = d.read(func(src register.Source) {
		st := register.Of(src, ref)
		force = comparisonsInForce(src, ref)
		values := register.Values(st, model.KindGauge)
		taken := takenBack(src.Roster().Allows, st.Entries)
		for _, v := range st.Entries {
			x, ok := comparedIn(v)
			switch {
			case v.ID() == id:
				gone, found, again = x, ok && !x.takesBack(), len(taken[id]) > 0
				replaces = append([]entry.ID{id}, v.Body().Replaces...)
			case ok && taken[v.ID()] == nil && !bytes.Equal(x.Withdraws, id[:]) && register.Speaks(src, v, ref) && src.Roster().Allows(v) && len(x.Points) > 0 && ofDial(x.Compared, v, values):
				left = append(left, v)
			}
		}
	})
	switch {
	case err != nil:
		return c, nil, err
	case !found:
		return c, nil, refuse("withdraw-none")
	case again:
		return c, nil, refuse("withdraw-again")
	}
	c = model.Compared{Withdraws: id[:], Gauge: &pot.Gauge}
	best, x, ok := worstOf(register.Unreplaced(left))
	if ok && slices.ContainsFunc(force, func(v entry.Verified) bool { return v.ID() == best.ID() }) { // it counts already, but the one that is taken back vouches for nothing before it
		was := c.Withdraws
		c = x
		c.Withdraws, c.Since = was, gone.Since
		return c, cut(replaces), nil
	}
	c.Since = gone.Knew // what was run before it was not planned by it
	c.ReferenceMilli = int64(math.Ceil(float64(pot.Gauge.SpanMilli) * steam.WorstClass / 100))
	c.Points = []model.FrozenCorrection{{AtMilli: pot.Gauge.SpanMilli / 2}}
	if ok {
		c.Points, c.Reference, c.Knew = nil, x.Reference, x.Knew
		if bad[best.ID()] {
			c.Knew = x.Since
		}
		for _, p := range x.Points { // as of one that is overdue: only what it shows too much counts
			p.ErrorMilli = max(p.ErrorMilli, 0)
			c.Points = append(c.Points, p)
		}
	}
	return c, cut(replaces), d.worstAtLine(pot, &c)
}

// cut keeps a list of what an entry replaces within what one may name.
func cut(ids []entry.ID) []entry.ID { return ids[:min(len(ids), 200)] }

// worstOf is the comparison by which a dial shows most too much.
func worstOf(vs []entry.Verified) (out entry.Verified, says model.Compared, ok bool) {
	for _, v := range vs {
		if c, _ := comparedIn(v); !ok || highest(c.Compared) >= highest(says) {
			out, says, ok = v, c.Compared, true
		}
	}
	return out, says, ok
}

// highest is the most that a comparison may mean that a dial shows too much, in thousandths of its unit.
func highest(c model.Compared) int64 {
	high := c.ReferenceMilli
	for _, p := range c.Points {
		high = max(high, p.ErrorMilli+c.ReferenceMilli)
	}
	return high
}
