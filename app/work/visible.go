package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// What goes to whom: nothing where two districts were not compared, and to a clinic only what concerns it.

// mayExchange refuses to take out for a site where the two districts were not compared.
func (d *Desk) mayExchange(to model.ID) (err error) {
	code := ""
	err = d.read(func(src register.Source) {
		r := src.Roster()
		own, _ := r.Site(d.ownSite(r))
		s, ok := r.Site(to)
		switch {
		case !ok:
			code = "no-such-site"
		case s.ID == own.ID:
		case own.Unproven, !own.Accepted:
			code = "unproven"
		case !s.Accepted, own.Office && !s.Proven:
			code = "unproven-other"
		}
	})
	if err == nil && code != "" {
		return refuse(code)
	}
	return err
}

// sees are the streams that a site may see, by whole stream: its own, those of the office, and those of clinics with which it shared packs; the office sees all.
func (d *Desk) sees(to model.ID) (func(entry.Stream) bool, error) {
	near, err := d.Store.Neighbours(to)
	if err != nil {
		return nil, d.unread(err)
	}
	heads, err := d.Store.Heads()
	if err != nil {
		return nil, d.unread(err)
	}
	may := map[entry.Stream]bool{}
	all := false
	err = d.read(func(src register.Source) {
		r := src.Roster()
		s, _ := r.Site(to)
		all = s.Office || to == d.ownSite(r)
		under := map[entry.Stream]entry.District{} // the root that a stream's entries name: what another root says of its key makes nobody see it
		for _, h := range heads {
			if v, ok := src.Entry(h.ID); ok {
				under[h.Stream] = v.Body().District
			}
		}
		for _, x := range r.Sites() {
			if x.ID == to || x.Office || slices.Contains(near, x.ID) {
				for _, stream := range r.Streams(x.ID) {
					may[stream] = may[stream] || under[stream] == x.Root
				}
			}
		}
	})
	return func(s entry.Stream) bool { return all || may[s] }, err
}
