package work

import (
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// What was said at set-up, said anew.

// Correct states height, pot and gauge anew; what stood before stays readable beside it. Cycles keep the
// plan that was frozen in them.
func (d *Desk) Correct(pot Pot, place Place, a Answers) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if len(pot.Also) > 0 {
		return refuse("two-gauges", pot.Looks.Name)
	}
	a.Site.Name, a.Person.Name = place.Site.Name, "."
	if err := a.Check(); err != nil {
		return err
	}
	if a.Gauge.Serial = strings.TrimSpace(a.Gauge.Serial); a.Gauge.Serial != strings.TrimSpace(pot.Gauge.Serial) && a.Gauge.Serial != "" {
		if x, known, err := d.KnownGauge(pot, a.Gauge.Serial); err != nil {
			return err
		} else if known && x.Looks.Gauge != pot.Looks.Gauge {
			return refuse("gauge-known", a.Gauge.Serial)
		}
	}
	a.Site.Language, a.Pot.Site, a.Pot.Gauge = place.Site.Language, place.ID, pot.Looks.Gauge
	a.Pot.Screwed, a.Pot.Knew, a.Pot.Since = false, nil, 0
	stood, err := d.stood(place)
	if err != nil {
		return err
	}
	if a.Site.RaisedPa, err = raised(stood, a.Site); err != nil {
		return err
	}
	var drafts []entry.Draft
	err = d.read(func(src register.Source) {
		drafts = []entry.Draft{d.siteAgain(src, place, a.Site), d.gaugeAgain(src, pot.Looks.Gauge, a.Gauge), d.again(src, model.Ref{Noun: model.NounSterilizer, ID: pot.ID}, model.KindSterilizer, a.Pot)}
	})
	if err != nil {
		return err
	}
	_, err = d.sign(drafts...)
	return err
}

// again describes something anew, in the place of every description that stands.
func (d *Desk) again(src register.Source, ref model.Ref, kind model.Kind, payload any) entry.Draft {
	return entry.Draft{Kind: kind, Targets: []model.Ref{ref}, Replaces: d.values(src, ref, kind), Payload: payload}
}

// siteAgain is again for our site: an altitude stated anew is stated in knowledge of every other way.
func (d *Desk) siteAgain(src register.Source, place Place, s model.Site) entry.Draft {
	ref := model.Ref{Noun: model.NounSite, ID: place.ID}
	x := d.again(src, ref, model.KindSite, s)
	x.Targets = siteRefs(place.ID, s)
	changed := s.HeightM != place.Site.HeightM || s.How != place.Site.How
	for _, h := range heights(src, ref) {
		if !h.Present && (changed || h.Settled) {
			x.Relies = append(x.Relies, h.By.ID())
		}
	}
	return x
}

// gaugeAgain is again for a dial: loads planned by what was said of it before may be in doubt.
func (d *Desk) gaugeAgain(src register.Source, gauge model.ID, g model.GaugeLooks) entry.Draft {
	g.OverPa = overRead(src, gauge, g)
	return d.again(src, model.Ref{Noun: model.NounGauge, ID: gauge}, model.KindGauge, g)
}
