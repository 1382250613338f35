package work

import (
	"math"
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Reference is a reference gauge: an instrument of its own, on which comparisons hang.
type Reference struct {
	ID model.ID
	model.Reference
	Two     bool // stated differently at once
	Overdue bool // its own check is due, or nobody knows the date: nothing is compared with it
}

// References lists the reference gauges that were stated, by name.
func (d *Desk) References() (out []Reference, err error) {
	_, heard, err := d.house()
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.ByKind(model.KindReference, heard...)
	if err != nil {
		return nil, d.unread(err)
	}
	now, err := d.Date()
	if err != nil {
		return nil, err
	}
	doubt := d.ClockDoubtful()
	err = d.read(func(src register.Source) {
		seen := map[model.ID]bool{}
		for _, v := range vs {
			for _, ref := range v.Body().Refs() {
				if ref.Noun != model.NounReference || seen[ref.ID] {
					continue
				}
				seen[ref.ID] = true
				st := register.Of(src, ref)
				r, two, ok := register.Described[model.Reference](st, model.KindReference)
				if !ok {
					continue
				}
				for _, w := range register.Values(st, model.KindReference) { // of several that were said at once the worst counts
					var x model.Reference
					if w.Body().Decode(&x) != nil {
						r.Due = 0
						continue
					}
					if r.Due = min(r.Due, x.Due); steam.Unit(x.Unit).Over(float64(x.ErrorMilli)) > steam.Unit(r.Unit).Over(float64(r.ErrorMilli)) {
						r.Unit, r.ErrorMilli = x.Unit, x.ErrorMilli
					}
				}
				out = append(out, Reference{ref.ID, r, two, doubt || now.UnixMilli() > r.Due})
			}
		}
	})
	slices.SortFunc(out, func(a, b Reference) int { return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return out, err
}

// reference finds one.
func (d *Desk) reference(id model.ID) (r Reference, err error) {
	all, err := d.References()
	i := slices.IndexFunc(all, func(r Reference) bool { return r.ID == id })
	if err == nil && i < 0 {
		return r, refuse("compare-with")
	}
	if err != nil {
		return r, err
	}
	return all[i], nil
}

// longestCheck is how far ahead the next check of a reference may lie (common practice: a year; no source).
const longestCheck = 2 * 366 * 24 * time.Hour

// SaveReference states a reference gauge, new (zero id) or anew after its check.
func (d *Desk) SaveReference(id model.ID, r model.Reference) (model.ID, error) {
	if err := d.mayManage(); err != nil {
		return id, err
	}
	r.Name, r.Certificate = strings.TrimSpace(r.Name), strings.TrimSpace(r.Certificate)
	switch u := steam.Unit(r.Unit); {
	case r.Name == "":
		return id, refuse("reference-name")
	case !u.Known():
		return id, refuse("unit")
	case u.Over(float64(r.ErrorMilli)/1000) < 50 || u.Over(float64(r.ErrorMilli)/1000) > 20e3:
		return id, refuse("reference-error")
	case r.Certificate == "":
		return id, refuse("reference-certificate")
	case time.UnixMilli(r.Due).Sub(d.Clock.Now().Wall) > longestCheck:
		return id, refuse("reference-due")
	}
	r.OffPa, r.Restated, r.Written = 0, nil, false // that is said by itself
	dr := entry.Draft{Kind: model.KindReference, Payload: r}
	if id.IsZero() {
		id = d.NewID()
	}
	dr.Targets = []model.Ref{{Noun: model.NounReference, ID: id}}
	if err := d.read(func(src register.Source) {
		dr.Replaces = d.values(src, dr.Targets[0], model.KindReference)
		r.OffPa = understated(src, dr.Replaces, r)
		r.Written = r.OffPa > 0
	}); err != nil {
		return id, err
	}
	dr.Payload = r
	_, err := d.sign(dr)
	return id, err
}

// understated is by how much more, Pa, a reference may be off than was said of it by one certificate: its error was written wrongly, and what was compared with it counts as so much worse. A new certificate says
// nothing of the time before it.
func understated(src register.Source, standing []entry.ID, now model.Reference) (most int64) {
	for _, id := range standing {
		v, here := src.Entry(id)
		var was model.Reference
		if !here || v.Body().Decode(&was) != nil || was.Certificate != now.Certificate {
			continue
		}
		more := steam.Unit(now.Unit).Over(float64(now.ErrorMilli)/1000) - steam.Unit(was.Unit).Over(float64(was.ErrorMilli)/1000)
		most = max(most, int64(math.Ceil(float64(more)-1e-6)))
	}
	return most
}

// offBy is how far a reference may be off in the unit of a dial, and refuses one whose own check is due.
func (r Reference) offBy(dial steam.Unit) (float64, error) {
	if r.Overdue {
		return 0, refuse("reference-overdue", r.Name)
	}
	own := steam.Unit(r.Unit)
	return math.Ceil(dial.Of(own.Over(float64(r.ErrorMilli)/1000))*1000) / 1000, nil
}
