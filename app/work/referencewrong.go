package work

import (
	"math"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// ReferenceWrong says that a reference gauge failed its own check: it showed too much, by so many of its own units. Every comparison that was made with it is opened again: it is stated anew
// beside the old one, with what its gauge then showed too much besides, and so puts in doubt the loads that it had vouched for. It gives the number of gauges that this concerns. A reference that
// showed too little made every gauge look worse than it is: that is noted, and frees nothing.
func (d *Desk) ReferenceWrong(id model.ID, by float64) (gauges int, err error) {
	if err := d.mayManage(); err != nil {
		return 0, err
	}
	ref, err := d.reference(id)
	if err != nil {
		return 0, err
	}
	off := steam.Unit(ref.Unit).Over(by)
	if !(off > 0) || off > 100e3 {
		return 0, refuse("reference-wrong")
	}
	vs, err := d.Store.ByKind(model.KindCompared)
	if err != nil {
		return 0, d.unread(err)
	}
	seen := map[model.Ref]bool{}
	var restated [][]byte
	var drafts []entry.Draft
	gone := register.TakenBack(vs, d.allows)
	err = d.read(func(src register.Source) {
		before := foundBefore(src, ref)
		for _, v := range vs {
			var c model.Compared
			if v.Body().Decode(&c) != nil || c.Reference != id || !src.Roster().Known(v) || gone[v.ID()] != nil {
				continue
			}
			for _, r := range v.Body().Refs() {
				if r.Noun != model.NounGauge || !register.Speaks(src, v, r) {
					continue
				}
				looks, _, ok := register.Described[model.GaugeLooks](register.Of(src, r), model.KindGauge)
				if c.Gauge != nil {
					looks, ok = *c.Gauge, true
				}
				if !ok {
					continue
				}
				was := v.ID()
				restated = append(restated, was[:])
				if len(before) > 0 && !slices.ContainsFunc(before, func(w entry.ID) bool { return slices.Contains(v.Body().Relies, w) }) {
					continue // made before an earlier check that it failed, which counts for it
				}
				again := withReferenceOff(c, steam.Unit(looks.Unit), off)
				again.Restates = was[:]
				drafts = append(drafts, entry.Draft{Kind: model.KindCompared, Targets: v.Body().Refs(), Replaces: []entry.ID{was}, Relies: v.Body().Relies, Payload: again})
				if !seen[r] {
					seen[r], gauges = true, gauges+1
				}
			}
		}
	})
	if err != nil {
		return 0, err
	}
	overdue := ref.Reference
	// nothing is compared with it until it has a new certificate; comparisons that come by a later stick are off by it as well
	overdue.Due = d.Clock.Now().Wall.AddDate(0, 0, -1).UnixMilli()
	overdue.Written = false
	overdue.OffPa, overdue.Restated = int64(math.Ceil(float64(off))), restated[max(0, len(restated)-mostRestated):]
	stated := entry.Draft{Kind: model.KindReference, Targets: []model.Ref{{Noun: model.NounReference, ID: id}}, Payload: overdue}
	if err := d.read(func(src register.Source) { stated.Replaces = d.values(src, stated.Targets[0], model.KindReference) }); err != nil {
		return 0, err
	}
	_, err = d.sign(append(drafts, stated)...)
	return gauges, err
}

// foundBefore are the words that a reference failed an earlier check, where it has a new certificate since; none where the word that is corrected is the one that stands.
func foundBefore(src register.Source, ref Reference) (out []entry.ID) {
	if ref.OffPa > 0 && !ref.Written {
		return nil
	}
	for _, w := range register.TargetingKind(src, model.Ref{Noun: model.NounReference, ID: ref.ID}, model.KindReference) {
		var r model.Reference
		if src.Roster().Known(w) && w.Body().Decode(&r) == nil && r.OffPa > 0 && !r.Written {
			out = append(out, w.ID())
		}
	}
	return out
}

// mostRestated bounds the comparisons that a word on a reference names: an entry has 64 kB. Those that it does not name count as worse than they are.
const mostRestated = 1500

// comparedNow is a comparison as it counts: where its reference was found to show too much, and it came too late to be stated anew, with that.
func comparedNow(src register.Source, v entry.Verified) (c saidOf, ok bool) {
	c, ok = comparedIn(v)
	if _, off := register.ReferenceOff(src, v); ok && off > 0 {
		if c.Gauge == nil { // nobody knows in which unit its points are
			c.Points, c.WorstPa = nil, c.WorstPa+off
		} else {
			c.Compared = withReferenceOff(c.Compared, steam.Unit(c.Gauge.Unit), steam.Over(off))
		}
	}
	return c, ok
}

func (d *Desk) comparedNow(v entry.Verified) (c saidOf, ok bool) {
	if err := d.read(func(src register.Source) { c, ok = comparedNow(src, v) }); err != nil { // an unreadable register is told elsewhere
		return c, false
	}
	return c, ok
}

// offBy is what the comparisons of a load's gauges that a word on their reference makes worse say with it.
func offBy(src register.Source, c register.Cycle, word entry.Verified) (out []model.Compared) {
	for _, gauge := range register.GaugesOf(src, c) {
		for _, v := range register.TargetingKind(src, model.Ref{Noun: model.NounGauge, ID: gauge}, model.KindCompared) {
			by, _ := register.ReferenceOff(src, v)
			if x, ok := comparedNow(src, v); ok && slices.ContainsFunc(by, func(w entry.Verified) bool { return w.ID() == word.ID() }) {
				out = append(out, x.Compared)
			}
		}
	}
	return out
}

// withReferenceOff is a comparison whose reference showed too much: its gauge showed that much more than was written down.
func withReferenceOff(c model.Compared, u steam.Unit, off steam.Over) model.Compared {
	more := int64(math.Ceil(u.Of(off)*1000 - 1e-6))
	points := c.Points
	c.Points = nil
	for _, p := range points {
		p.ErrorMilli += more
		c.Points = append(c.Points, p)
	}
	if c.WorstPa == 0 { // an old record, which said so by its points only
		for _, p := range points {
			c.WorstPa = max(c.WorstPa, int64(math.Ceil(float64(u.Over(float64(p.ErrorMilli+c.ReferenceMilli)/1000)))))
		}
	}
	c.WorstPa += int64(math.Ceil(float64(off)))
	return c
}
