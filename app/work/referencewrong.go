package work

import (
	"math"

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
	var drafts []entry.Draft
	gone := register.TakenBack(vs, d.allows)
	err = d.read(func(src register.Source) {
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
				again, was := withReferenceOff(c, steam.Unit(looks.Unit), off), v.ID()
				again.Restates = was[:]
				drafts = append(drafts, entry.Draft{Kind: model.KindCompared, Targets: v.Body().Refs(), Replaces: []entry.ID{was}, Payload: again})
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
	overdue.Due = d.Clock.Now().Wall.AddDate(0, 0, -1).UnixMilli() // nothing is compared with it until it has a new certificate
	stated := entry.Draft{Kind: model.KindReference, Targets: []model.Ref{{Noun: model.NounReference, ID: id}}, Payload: overdue}
	if err := d.read(func(src register.Source) { stated.Replaces = d.values(src, stated.Targets[0], model.KindReference) }); err != nil {
		return 0, err
	}
	_, err = d.sign(append(drafts, stated)...)
	return gauges, err
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
