package work

import (
	"slices"
)

// Glance is how a clinic of the district stands, by what has come in from it.
type Glance struct {
	SiteKnown
	Last    int64 // its latest word that is here, by its own clock; wall, ms; 0: nothing has come
	Stopped int   // loads that are held
	InDoubt int   // of these, loads that somebody is to look back on
	Open    int   // loads that wait for their release, or are on the fire
}

// Glances are the clinics of the district, what is stopped first, then who has been silent longest.
func (d *Desk) Glances() (out []Glance, err error) {
	sites, err := d.Sites()
	if err != nil {
		return nil, err
	}
	devices, err := d.Devices()
	if err != nil {
		return nil, err
	}
	for _, s := range sites {
		if s.Own || s.Office {
			continue
		}
		g := Glance{SiteKnown: s}
		for _, x := range devices {
			if x.Site == s.ID {
				g.Last = max(g.Last, x.Last)
			}
		}
		waiting, stopped, doubted, err := d.Store.LoadsAt(s.ID)
		if err != nil {
			return nil, d.unread(err)
		}
		g.Stopped, g.Open, g.InDoubt = stopped, waiting-stopped, doubted
		out = append(out, g)
	}
	slices.SortStableFunc(out, func(a, b Glance) int {
		if a.Stopped != b.Stopped {
			return b.Stopped - a.Stopped
		}
		return int(min(max(a.Last-b.Last, -1), 1))
	})
	return out, nil
}
