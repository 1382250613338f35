package work

import (
	"maps"
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Taking a comparison back: it was of another gauge, or its figures were written wrongly. The gauge is compared again first, for a taking back counts only where another comparison does: marks are
// made by that one, and loads that the wrong one put in doubt, which stay stopped until somebody looks back on them, are judged by it. Loads that only the wrong one had vouched for are in doubt
// by the comparisons after it; the fold sees to that. Nothing that was written goes.

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
	return c, !v.IsZero() && v.Body().Kind == model.KindCompared && v.Body().Decode(&c.Compared) == nil
}

// backed is the comparison that an entry takes back.
func backed(v entry.Verified) (id entry.ID, ok bool) {
	if c, said := comparedIn(v); said && len(c.Withdraws) == len(id) {
		return entry.ID(c.Withdraws), true
	}
	return id, false
}

// Comparisons lists those of the gauge of a pot, newest first.
func (d *Desk) Comparisons(pot Pot) (out []Comparison, err error) {
	ref := model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}
	st, err := d.noun(ref)
	if err != nil {
		return nil, err
	}
	var force []entry.Verified
	var gone map[entry.ID][]entry.Verified
	if err := d.read(func(src register.Source) { force, gone = comparisonsInForce(src, ref) }); err != nil {
		return nil, err
	}
	for _, v := range slices.Backward(st.Entries) {
		c, ok := d.comparedNow(v)
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
	if _, err := d.CheckWithdraw(pot, id); err != nil {
		return err
	}
	_, err := d.sign(entry.Draft{Kind: model.KindCompared, Payload: model.Compared{Withdraws: id[:], Reason: reason, At: d.Clock.Now().Wall.UnixMilli()}, Replaces: []entry.ID{id},
		Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}, {Noun: model.NounSterilizer, ID: pot.ID}}})
	return err
}

// CheckWithdraw says whether a comparison can be taken back, and counts the loads that lose what vouched for them.
func (d *Desk) CheckWithdraw(pot Pot, id entry.ID) (inDoubt int, err error) {
	ref := model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}
	var found, again, other bool
	var now, then []model.Compared // those after it with the window that they have, and with that which they will have
	err = d.read(func(src register.Source) {
		about := register.Of(src, ref).Entries
		force, taken := comparisonsInForce(src, ref)
		again = len(taken[id]) > 0
		other = slices.ContainsFunc(force, func(v entry.Verified) bool {
			c, _ := comparedIn(v)
			return v.ID() != id && taken[v.ID()] == nil && src.Roster().Allows(v) && string(c.Restates) != string(id[:])
		})
		back := map[entry.ID][]entry.Verified{}
		maps.Copy(back, register.TakenBack(about, src.Roster().Known))
		now = after(src, id, about, back)
		for _, v := range about {
			if c, ok := comparedIn(v); ok && v.ID() == id && !c.takesBack() {
				found, back[id] = true, []entry.Verified{v}
			}
		}
		then = after(src, id, about, back)
	})
	switch {
	case err != nil:
		return 0, err
	case !found:
		return 0, refuse("withdraw-none")
	case again:
		return 0, refuse("withdraw-again")
	case !other:
		return 0, refuse("withdraw-alone")
	}
	return d.fallBetween(pot, now, then)
}

// IsAlone says that a comparison cannot be taken back because nothing else says how its gauge shows.
func IsAlone(err error) bool { return isRefusal(err, "withdraw-alone") }

// after are the comparisons that were made in knowledge of one, each with the window that it has where some were taken back.
func after(src register.Source, id entry.ID, about []entry.Verified, back map[entry.ID][]entry.Verified) (out []model.Compared) {
	for _, v := range about {
		if c, ok := comparedIn(v); ok && !c.takesBack() && slices.Contains(v.Body().Replaces, id) {
			c.Since = register.WindowOf(src, v, c.Compared, about, back)
			out = append(out, c.Compared)
		}
	}
	return out
}

// countsInstead are the comparisons that count in the place of one that put loads in doubt, and what took it back; none: it counts itself.
func countsInstead(src register.Source, cause entry.Verified) (instead, by []entry.Verified) {
	for _, r := range cause.Body().Refs() {
		if r.Noun != model.NounGauge {
			continue
		}
		force, taken := comparisonsInForce(src, r)
		if len(taken[cause.ID()]) > 0 {
			instead, by = append(instead, force...), append(by, taken[cause.ID()]...)
		}
	}
	return instead, by
}
