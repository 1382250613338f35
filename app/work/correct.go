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
		if statesHeight(src, place, a.Site) {
			drafts = append(drafts, d.siteAgain(src, place, a.Site))
		}
		was := pot.Gauge
		was.OverPa, a.Gauge.OverPa = 0, 0
		if a.Gauge != was || !d.toldTwice(src, model.Ref{Noun: model.NounGauge, ID: pot.Looks.Gauge}, model.KindGauge) {
			drafts = append(drafts, d.gaugeAgain(src, pot.Looks.Gauge, a.Gauge))
		}
		ref := model.Ref{Noun: model.NounSterilizer, ID: pot.ID}
		if !samePlate(a.Pot, pot.Looks) || !d.toldTwice(src, ref, model.KindSterilizer) {
			drafts = append(drafts, d.again(src, ref, model.KindSterilizer, a.Pot))
		}
	})
	if err != nil || len(drafts) == 0 {
		return err
	}
	_, err = d.sign(drafts...)
	return err
}

// toldTwice says whether something is described in several ways by those whose word counts: what is left as it is settles nothing then. Somebody says which is right, where both are shown.
func (d *Desk) toldTwice(src register.Source, ref model.Ref, kind model.Kind) bool {
	return register.Differ(register.Values(register.Of(src, ref), kind))
}

// samePlate says whether a pot's name and figures are the same.
func samePlate(a, b model.Sterilizer) bool {
	return a.Name == b.Name && a.LimitPa == b.LimitPa && a.ValvePa == b.ValvePa && a.LeastWaterML == b.LeastWaterML
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
	x := d.again(src, model.Ref{Noun: model.NounGauge, ID: gauge}, model.KindGauge, nil)
	g.OverPa = overRead(src, gauge, x.Replaces, g)
	x.Payload = g
	return x
}

// statesHeight says whether an altitude is stated anew: not where it was left as it is. Where it was told in two ways, how it is known settles nothing either: somebody says which it is, where both are shown.
func statesHeight(src register.Source, place Place, s model.Site) bool {
	was := place.Site
	if s.HeightM != was.HeightM {
		return true
	}
	disputed := len(register.Values(register.Of(src, model.Ref{Noun: model.NounSite, ID: place.ID}), model.KindSite)) > 1
	return !disputed && (s.How != was.How || s.WithinM != was.WithinM || s.WeatherPermille != was.WeatherPermille || s.BoilingMilli != was.BoilingMilli)
}
