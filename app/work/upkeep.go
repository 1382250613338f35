package work

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Comparing the gauge with a reference, and lifting the safety valve: what the marks rest on.

// CompareForm is a gauge beside a reference: what both show at two points, cold, with air from a pump or the pot empty.
type CompareForm struct {
	Points []ComparePoint
	With   model.ID // the reference gauge
	Cold   bool     // both cold, side by side, tapped before reading
}

// ComparePoint is what stood on both dials.
type ComparePoint struct{ Shown, True float64 }

// Compare records a comparison. It takes the class's place in every later plan.
func (d *Desk) Compare(pot Pot, site model.Site, f CompareForm) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	c, err := d.compared(pot, site, f)
	if err != nil {
		return err
	}
	st, err := d.noun(model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
	if err != nil {
		return err
	}
	var before []entry.ID // those that this one was made in knowledge of
	for _, v := range st.Entries {
		if v.Body().Kind == model.KindCompared {
			before = append(before, v.ID())
		}
	}
	c.Gauge = &pot.Gauge
	_, drafts, err := d.doubtful(pot, c)
	if err != nil {
		return err
	}
	_, err = d.sign(append(drafts, entry.Draft{Kind: model.KindCompared, Payload: c, Replaces: before[max(0, len(before)-200):],
		Targets: []model.Ref{{Noun: model.NounGauge, ID: pot.Looks.Gauge}, {Noun: model.NounSterilizer, ID: pot.ID}, {Noun: model.NounReference, ID: f.With}}})...)
	return err
}

// CheckCompare says what of a comparison cannot be, before anybody is asked to answer for it, and how many loads it puts in doubt.
func (d *Desk) CheckCompare(pot Pot, site model.Site, f CompareForm) (inDoubt int, err error) {
	c, err := d.compared(pot, site, f)
	if err != nil {
		return 0, err
	}
	inDoubt, _, err = d.doubtful(pot, c)
	return inDoubt, err
}

// compared works a comparison out. It must hold: two points, one of them near the mark, and a reference that is not bettered by wishing.
func (d *Desk) compared(pot Pot, site model.Site, f CompareForm) (c model.Compared, err error) {
	u, span := steam.Unit(pot.Gauge.Unit), float64(pot.Gauge.SpanMilli)/1000
	if !f.Cold {
		return c, refuse("compare-cold")
	}
	if len(f.Points) < 2 {
		return c, refuse("compare-points")
	}
	with, err := d.reference(f.With)
	if err != nil {
		return c, err
	}
	off, err := with.offBy(u)
	if err != nil {
		return c, err
	}
	off = max(off, span*leastReference) // nothing is read finer than that beside this dial
	if off > span*0.04 {
		return c, refuse("compare-reference", with.Name, short(off), short(span*0.04), string(u))
	}
	if site, err = d.unsettled(site); err != nil {
		return c, err
	}
	air, err := Air(site).Air()
	if err != nil {
		return c, wrap(err, "altitude")
	}
	need, err := steam.Need(121, air)
	if err != nil {
		return c, wrap(err, "altitude")
	}
	mark, near, low := u.Of(need), false, math.Inf(1)
	for _, p := range f.Points {
		if !(p.Shown >= 0 && p.Shown <= span && p.True >= 0 && p.True <= span*1.2) {
			return c, refuse("needle-off-dial", short(p.Shown), short(span), string(u))
		}
		if math.Abs(p.Shown-p.True) > span*worstError {
			return c, refuse("gauge-worthless", short(p.Shown-p.True), string(u))
		}
		near = near || math.Abs(p.True-mark) <= mark*0.2
		low = min(low, p.True)
	}
	if !near || low > mark*0.6 {
		return c, refuse("compare-where", short(math.Round(mark)), string(u))
	}
	slices.SortFunc(f.Points, func(a, b ComparePoint) int { return int(math.Copysign(1, a.Shown-b.Shown)) })
	if err := agree(f.Points, span, pot.Gauge.ClassMilli, off, string(u)); err != nil {
		return c, err
	}
	c = model.Compared{ReferenceMilli: int64(math.Ceil(off*1000 - 1e-6)), Reference: f.With, At: d.Clock.Now().Wall.UnixMilli()}
	for _, p := range f.Points {
		c.Points = append(c.Points, model.FrozenCorrection{AtMilli: int64(math.Round(p.Shown * 1000)), ErrorMilli: int64(math.Ceil((p.Shown-p.True)*1000 - 1e-6))})
	}
	return c, nil
}

// agree refuses points that contradict each other, and a gauge that shows less than is there by more than its class: the mark would
// come down by it, and columns taken for each other look just so.
func agree(ps []ComparePoint, span float64, classMilli int64, reference float64, unit string) error {
	class := float64(max(classMilli, 1600)) / 1000 / 100 * span
	for i, p := range ps {
		if i > 0 && (p.Shown <= ps[i-1].Shown || p.True <= ps[i-1].True) {
			return refuse("compare-contradiction", short(ps[i-1].Shown), short(p.Shown), unit)
		}
		if i > 0 && math.Abs((p.Shown-p.True)-(ps[i-1].Shown-ps[i-1].True)) > 2*class+2*reference {
			return refuse("compare-contradiction", short(ps[i-1].Shown), short(p.Shown), unit)
		}
		if i > 0 && math.Abs((p.Shown-p.True)-(ps[i-1].Shown-ps[i-1].True)) >= p.Shown-ps[i-1].Shown {
			return refuse("compare-contradiction", short(ps[i-1].Shown), short(p.Shown), unit)
		}
		if p.True-p.Shown > class+reference {
			return refuse("compare-swapped", short(p.True-p.Shown), unit)
		}
	}
	return nil
}

// Limits of a comparison, as shares of the span: no reference at a clinic is better than a quarter of a per cent, and a gauge that is off
// by a tenth of its dial is to be replaced, not corrected (common practice, no source).
const (
	leastReference = 0.0025
	worstError     = 0.10
)

// LiftValve records the safety valve lifted on purpose, with the needle at which it lifted; or not lifting, which stops the pot.
func (d *Desk) LiftValve(pot Pot, lifted bool, needle int64) error {
	u := steam.Unit(pot.Gauge.Unit)
	found := int64(math.Floor(float64(u.Over(float64(needle) / 1000))))
	if lifted && (found < 50_000 || found > 400_000 || needle > pot.Gauge.SpanMilli) {
		return refuse("valve-found")
	}
	if high := ValveTooHigh(pot, needle); lifted && high { // it protects nobody: as good as stuck
		lifted = false
	} else if lifted {
		if err := d.mayManage(); err != nil {
			return err
		}
	} else {
		found = 0
	}
	_, err := d.sign(entry.Draft{Kind: model.KindValveTest, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}},
		Payload: model.ValveTest{Lifted: lifted, FoundPa: found, At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// ValveTooHigh says whether a valve that lifted at a needle lets the pot above its own limit.
func ValveTooHigh(pot Pot, needle int64) bool {
	limit := pot.highest()
	return limit > 0 && int64(steam.Unit(pot.Gauge.Unit).Over(float64(needle)/1000)) > limit
}

// BackToService lifts the holds of one code on a pot: a valve that lifts again, or three valid negative spore tests in cycles begun
// after the positive was read. The person in charge answers for it by name and reason.
func (d *Desk) BackToService(pot Pot, code, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if strings.TrimSpace(reason) == "" {
		return refuse("reason-missing")
	}
	st, err := d.noun(model.Ref{Noun: model.NounSterilizer, ID: pot.ID})
	if err != nil {
		return err
	}
	var ids, relies []entry.ID
	var last entry.Verified
	for _, h := range st.Holds {
		if h.Open() && h.Code == code {
			ids, relies = append(ids, h.ID), append(relies, h.Cause.ID())
			if last.IsZero() || entry.Less(last, h.Cause) < 0 {
				last = h.Cause
			}
		}
	}
	if len(ids) == 0 {
		return refuse("nothing-to-clear")
	}
	proof, err := d.proofOf(pot, st, code, last)
	if err != nil {
		return err
	}
	relies = append(relies, proof...)
	if err := d.read(func(src register.Source) { relies = append(relies, d.grant(src.Roster())...) }); err != nil {
		return err
	}
	drafts := []entry.Draft{{Kind: model.KindClear, Targets: []model.Ref{st.Ref}, Clears: ids, Relies: relies, Payload: model.Clear{Reason: strings.TrimSpace(reason)}}}
	if code == register.HoldSpore {
		var grew []entry.Verified
		for _, h := range st.Holds {
			if h.Open() && h.Code == code {
				grew = append(grew, h.Cause)
			}
		}
		stay, err := d.stayHeld(pot, grew)
		if err != nil {
			return err
		}
		drafts = append(stay, drafts...)
	}
	_, err = d.sign(drafts...)
	return err
}

// stayHeld holds each load of the bad time by itself before the pot's own hold is lifted: for each growth all that was not provably begun before the cycle of the last
// valid negative test that lies provably before the cycle that grew. A pot that is good again makes no earlier load good.
func (d *Desk) stayHeld(pot Pot, grew []entry.Verified) (out []entry.Draft, err error) {
	tests, err := d.SporeTests(1000)
	if err != nil {
		return nil, err
	}
	ids, err := d.Store.CyclesOf(pot.ID, 100_000)
	if err != nil {
		return nil, d.unread(err)
	}
	safe := map[model.ID]int{} // for how many of the growths a load lies before the bad time
	for _, g := range grew {
		earlier, err := d.provablyBefore(cyclesOf(g))
		if err != nil {
			return nil, err
		}
		var good []model.ID
		for _, t := range tests { // newest first
			if t.Placed.Pot == pot.ID && t.Said == model.SporeNegative && earlier[t.Placed.Cycle] && entry.Less(t.PlacedBy, g) < 0 { // none that was thought of after the growth
				good = []model.ID{t.Placed.Cycle}
				break
			}
		}
		before, err := d.provablyBefore(good)
		if err != nil {
			return nil, err
		}
		for _, id := range append(good, slices.Collect(maps.Keys(before))...) {
			safe[id]++
		}
	}
	for _, id := range ids {
		if safe[id] == len(grew) {
			continue
		}
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		if len(c.Begun.Packs) > 0 {
			out = append(out, entry.Draft{Kind: model.KindHold, Targets: []model.Ref{c.State.Ref}, Payload: model.Hold{Code: HoldStopped, Reason: register.HoldSpore}})
		}
	}
	return out, nil
}

// cyclesOf are the cycles that an entry is about.
func cyclesOf(v entry.Verified) (out []model.ID) {
	for _, r := range v.Body().Refs() {
		if r.Noun == model.NounCycle {
			out = append(out, r.ID)
		}
	}
	return out
}

// provablyBefore are the cycles that a cycle names as the latest before it, and those that these name, and so on: the order of a pot's cycles is what was known, no
// number and no clock.
func (d *Desk) provablyBefore(cycles []model.ID) (map[model.ID]bool, error) {
	out := map[model.ID]bool{}
	for next := slices.Clone(cycles); len(next) > 0; {
		id := next[0]
		next = next[1:]
		if id.IsZero() {
			continue
		}
		c, err := d.Cycle(id)
		if isRefusal(err, "no-such-cycle") {
			continue
		}
		if err != nil {
			return nil, err
		}
		if d.gone(c.Entry) {
			continue
		}
		for _, b := range c.Begun.After {
			if len(b) == len(model.ID{}) && !out[model.ID(b)] {
				out[model.ID(b)] = true
				next = append(next, model.ID(b))
			}
		}
	}
	return out, nil
}

// Negatives is the number of valid negative tests in a row that bring a pot back (CDC sterilizing practices, restated).
const Negatives = 3

// proofOf gives what shows that the cause of a hold is mended.
func (d *Desk) proofOf(pot Pot, st register.State, code string, since entry.Verified) (out []entry.ID, err error) {
	switch code {
	case register.HoldValve:
		for _, v := range st.Entries {
			var x model.ValveTest
			if v.Body().Kind == model.KindValveTest && v.Body().Decode(&x) == nil && x.Lifted && entry.Less(since, v) < 0 && d.allows(v) {
				out = append(out, v.ID())
			}
		}
		if len(out) == 0 {
			return nil, refuse("valve-not-mended")
		}
		return out, nil
	case register.HoldSpore:
		tests, err := d.SporeTests(200)
		if err != nil {
			return nil, err
		}
		cycles := map[model.ID]bool{} // three tests in one cycle are one proof
		for _, t := range tests {     // newest first
			if t.Placed.Pot != pot.ID || entry.Less(since, t.PlacedBy) > 0 {
				break
			}
			if t.Said == model.SporeNegative && !cycles[t.Placed.Cycle] {
				whole, err := d.wholeCycle(t.Placed.Cycle)
				if err != nil {
					return nil, err
				}
				c, err := d.Cycle(t.Placed.Cycle)
				if err != nil {
					return nil, err
				}
				later, err := d.begunSince(c, since)
				if err != nil {
					return nil, err
				}
				if whole && later { // a test laid into an old cycle proves nothing
					cycles[t.Placed.Cycle] = true
					out = append(out, t.ReadBy.ID())
				}
			} else if t.Said == model.SporePositive {
				break
			}
		}
		if len(out) < Negatives {
			return nil, refuse("three-negatives", strconv.Itoa(len(out)), strconv.Itoa(Negatives))
		}
		return out, nil
	}
	return nil, refuse("nothing-to-clear")
}

// begunSince says whether a cycle was begun after an entry was written: by what its device knew, and of a slip also by the day and hour on it.
func (d *Desk) begunSince(c register.Cycle, since entry.Verified) (bool, error) {
	if entry.Less(since, c.Entry) >= 0 {
		return false, nil
	}
	if c.Begun.Source != model.FromPaper {
		return true, nil
	}
	at, known, err := d.Corrected(since)
	lit, sure, errLit := d.Began(c)
	return known && sure && lit.After(at), errors.Join(err, errLit)
}

// wholeCycle says whether a cycle was run to its end and its readings show it: a test that lay in a pot that was never hot is no proof.
func (d *Desk) wholeCycle(id model.ID) (bool, error) {
	c, err := d.Cycle(id)
	if err != nil || c.Closed == nil || c.Aborted() {
		return false, err
	}
	r, err := d.Judge(c)
	return r.Verdict == model.Shown, err
}

// gone says whether an entry is by a device whose word no longer counts for the good.
func (d *Desk) gone(v entry.Verified) (yes bool) {
	err := d.read(func(src register.Source) { yes = src.Roster().Gone(v) })
	return err != nil || yes
}

func (d *Desk) noun(ref model.Ref) (st register.State, err error) {
	err = d.read(func(src register.Source) { st = register.Of(src, ref) })
	return st, err
}

// LastCompared is when the gauge of a pot was last compared; ok is false where it never was.
func (d *Desk) LastCompared(pot Pot) (at time.Time, ok bool, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge})
	for _, v := range st.Entries {
		var c model.Compared
		if v.Body().Kind == model.KindCompared && v.Body().Decode(&c) == nil {
			at, ok = time.UnixMilli(c.At), true
		}
	}
	return at, ok, err
}
