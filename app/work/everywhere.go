package work

import (
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// What is listed of our site, and at the office of every clinic.

// SporeAt is a spore test with the name of the clinic whose pot it was laid into.
type SporeAt struct {
	SporeTest
	Site string
}

// SporeTestsOfAll lists the latest of our site, or at the office of every clinic, newest first.
func (d *Desk) SporeTestsOfAll(limit int) (out []SporeAt, err error) {
	by, names, err := d.listed()
	if err != nil {
		return nil, err
	}
	tests, err := d.sporeTests(limit, by)
	if err != nil {
		return nil, err
	}
	err = d.read(func(src register.Source) {
		for _, t := range tests {
			site, ok := register.House(src, model.Ref{Noun: model.NounSterilizer, ID: t.Placed.Pot})
			if !ok {
				site, _ = src.Roster().SiteOf(t.PlacedBy)
			}
			out = append(out, SporeAt{t, names[site]})
		}
	})
	return out, err
}

// IncidentAt is an incident with the name of the clinic that told of it.
type IncidentAt struct {
	IncidentView
	Site string
}

// IncidentsOfAll lists the latest of our site, or at the office of every clinic, newest first.
func (d *Desk) IncidentsOfAll(limit int) (out []IncidentAt, err error) {
	by, names, err := d.listed()
	if err != nil {
		return nil, err
	}
	all, err := d.incidents(limit, by)
	if err != nil {
		return nil, err
	}
	err = d.read(func(src register.Source) {
		for _, x := range all {
			site, _ := src.Roster().SiteOf(x.By)
			out = append(out, IncidentAt{x, names[site]})
		}
	})
	return out, err
}

// listed are the streams whose acts are listed here: those that are heard of at our site, and at the office every clinic's too.
func (d *Desk) listed() (by []entry.Stream, names map[model.ID]string, err error) {
	if names, err = d.SiteNames(); err != nil {
		return nil, nil, err
	}
	if _, by, err = d.house(); err != nil {
		return nil, nil, err
	}
	office, err := d.Office()
	if err != nil || !office {
		return by, names, err
	}
	sites, err := d.Sites()
	if err != nil {
		return nil, nil, err
	}
	for _, s := range sites {
		if s.Own {
			continue
		}
		own, err := d.streamsOf(s.ID)
		if err != nil {
			return nil, nil, err
		}
		by = append(by, own...)
	}
	return by, names, nil
}
