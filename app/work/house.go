package work

import (
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/trust"
)

// In a district many sites' entries lie in one register. What a clerk sees and does is about the own site; the office's word is heard everywhere.

// ownSite is the site that this device works for.
func (d *Desk) ownSite(r trust.Roster) (site model.ID) {
	if d.author != nil {
		if dev, ok := r.Device(d.author.Stream); ok && dev.Caps != 0 {
			return dev.Site
		}
	}
	for _, s := range r.Sites() { // before there is a certificate, or where it counts no more
		if s.Root == r.District {
			return s.ID
		}
	}
	return site
}

// SiteID is the site that this device works for.
func (d *Desk) SiteID() (site model.ID, err error) {
	err = d.read(func(src register.Source) { site = d.ownSite(src.Roster()) })
	return site, err
}

// Office says whether this device is one of the district's office.
func (d *Desk) Office() (yes bool, err error) {
	err = d.read(func(src register.Source) {
		s, _ := src.Roster().Site(d.ownSite(src.Roster()))
		yes = s.Office
	})
	return yes, err
}

// house are the streams that work for our site, and those of the office where it speaks for us: what they tell is told here.
func (d *Desk) house() (own, heard []entry.Stream, err error) {
	err = d.read(func(src register.Source) { own, heard = houseOf(src.Roster(), d.ownSite(src.Roster())) })
	return own, heard, err
}

// streamsOf are the streams that work for a site.
func (d *Desk) streamsOf(site model.ID) (own []entry.Stream, err error) {
	err = d.read(func(src register.Source) { own = src.Roster().Streams(site) })
	return own, err
}

func (d *Desk) houseFor(site model.ID) (own, heard []entry.Stream, err error) {
	err = d.read(func(src register.Source) { own, heard = houseOf(src.Roster(), site) })
	return own, heard, err
}

// houseOf are the streams that work for a site, and these with those of the office where it speaks for the site.
func houseOf(r trust.Roster, id model.ID) (own, heard []entry.Stream) {
	site, _ := r.Site(id)
	own = r.Streams(id)
	heard = append(heard, own...)
	if site.Office {
		return own, heard
	}
	for _, s := range r.Sites() {
		if s.Office && site.Accepted {
			heard = append(heard, r.Streams(s.ID)...)
		}
	}
	return own, heard
}

// ours says whether an entry may say what it says of our site: its author is allowed to, and speaks for the site.
func (d *Desk) ours(src register.Source, v entry.Verified) bool {
	return src.Roster().Allows(v) && src.Roster().Speaks(v, d.ownSite(src.Roster()))
}

// openCycles are the cycles of our site that wait for somebody, oldest first.
func (d *Desk) openCycles() ([]model.ID, error) {
	site, err := d.SiteID()
	if err != nil {
		return nil, err
	}
	ids, err := d.Store.OpenCycles(site)
	if err != nil {
		return nil, d.unread(err)
	}
	return ids, nil
}

// LatestCycles are the cycles of our site, newest first.
func (d *Desk) LatestCycles(limit int) ([]model.ID, error) {
	site, err := d.SiteID()
	if err != nil {
		return nil, err
	}
	ids, err := d.Store.LatestCycles(site, limit)
	if err != nil {
		return nil, d.unread(err)
	}
	return ids, nil
}
