package work

import (
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Settling what was described in several ways: one of them is taken for right, and nothing beside it changes.

// Choosable says that one of its values can be taken here, by a tap.
func (c Clash) Choosable() bool {
	return c.Own && len(c.Values) > 1 && (c.Code == "site" || c.Code == "pot" || c.Code == "gauge")
}

// SettleClash takes one of the ways in which our site, a pot of it or its dial is described for right. The one in charge answers for it.
func (d *Desk) SettleClash(c Clash, by entry.ID) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	place, err := d.Place()
	if err != nil {
		return err
	}
	var stood []model.Site // by which a mark may have been made
	if c.Code == "site" {
		if stood, err = d.stood(place); err != nil {
			return err
		}
	}
	var x entry.Draft
	wrong := refuse("clash-gone")
	err = d.read(func(src register.Source) {
		v, here := src.Entry(by)
		if !here || !c.Choosable() {
			return
		}
		x, wrong = d.taken(src, place, stood, c, v)
	})
	if err != nil {
		return err
	}
	if wrong != nil {
		return wrong
	}
	_, err = d.sign(x)
	return err
}

// taken describes something anew by what an entry says of it.
func (d *Desk) taken(src register.Source, place Place, stood []model.Site, c Clash, v entry.Verified) (x entry.Draft, err error) {
	gone := refuse("clash-gone")
	switch c.Code {
	case "site":
		var s model.Site
		if v.Body().Decode(&s) != nil || c.ID != place.ID {
			return x, gone
		}
		if s.RaisedPa, err = raised(stood, s); err != nil {
			return x, err
		}
		return d.siteAgain(src, place, s), nil
	case "pot":
		var s model.Sterilizer
		pot, here := place.Pot(c.ID)
		if v.Body().Decode(&s) != nil || !here {
			return x, gone
		}
		if len(pot.Also) > 0 { // which gauge is on it is asked first
			return x, refuse("two-gauges", pot.Looks.Name)
		}
		s.Screwed, s.Knew, s.Since = false, nil, 0
		return d.again(src, model.Ref{Noun: model.NounSterilizer, ID: c.ID}, model.KindSterilizer, s), nil
	}
	var g model.GaugeLooks
	if v.Body().Decode(&g) != nil || v.Body().Kind != model.KindGauge {
		return x, gone
	}
	if err := checkGauge(g); err != nil {
		return x, err
	}
	return d.gaugeAgain(src, c.ID, g), nil
}
