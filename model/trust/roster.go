package trust

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Device is one certified stream.
type Device struct {
	Site    model.ID
	Letter  string
	Caps    model.Caps
	Removed bool
	Forked  uint64 // first number of which there are two entries; 0: none
	Cut     uint64 // last seq counted for the good, where Removed
	Office  bool   // of the district's office: it speaks for every clinic that accepted the district
	Grants  []Grant

	ever  model.Caps       // all caps that any grant gave: what it stopped with them stays stopped
	sites []model.ID       // all sites that any grant named
	roots []entry.District // of whose sites
}

// Grant is how a device came to its caps: the entry that names it, and those that name the key which
// signed that (none where the root itself signed).
type Grant struct {
	Device entry.ID
	Site   []entry.ID
}

// Site is what a roster knows of a site.
type Site struct {
	ID       model.ID
	Root     entry.District
	Code     string // three letters of its numbers; "" where nobody gave any
	Name     string // as it asked to be called when it joined; "" for a root's own
	Office   bool
	Joined   entry.ID // the entry that took it in, of several the last; zero: a site of the head's own root, or of ours
	Accepted bool     // its root accepted the district, with the words compared
	Unproven bool     // its root accepted, and nobody compared the words
	Proven   bool     // the office compared the words

	joins []entry.ID
}

// Roster is the folded trust of a register.
type Roster struct {
	District entry.District // of the register itself
	Head     entry.District // of the district that it belongs to; its own where it joined none

	family  map[entry.District]bool
	roots   map[entry.Stream]entry.District // streams that speak for a root
	devices map[entry.Stream]Device
	keys    map[entry.Stream]map[model.ID][]entry.ID // site keys: the sites they were ever granted, by which entry
	sites   map[model.ID]Site
	from    []entry.Verified // what it was folded from
}

// Kinds are those that the roster is folded from.
var Kinds = []model.Kind{model.KindFounding, model.KindSiteGrant, model.KindDeviceGrant, model.KindDeviceRemoved, model.KindJoined, model.KindAccepted, model.KindProven, model.KindSuccessor}

// IsGrant says whether an entry is one that the roster is folded from.
func IsGrant(v entry.Verified) bool { return slices.Contains(Kinds, v.Body().Kind) }

// With is the roster as it would be with more entries.
func (r Roster) With(more []entry.Verified) Roster {
	return Build(r.District, append(slices.Clone(r.from), more...))
}

// Fork marks streams of which there are two branches: what they do for the good from the fork on does not count; their facts and holds do.
func (r Roster) Fork(forks map[entry.Stream]uint64) Roster {
	for s, seq := range forks {
		if d, ok := r.devices[s]; ok {
			d.Forked = seq
			r.devices[s] = d
		}
	}
	return r
}

// Changed lists the streams of which the word counts otherwise in another roster.
func (r Roster) Changed(now Roster) (out []entry.Stream) {
	same := func(a, b Device) bool {
		return a.Removed == b.Removed && a.Cut == b.Cut && a.Forked == b.Forked && a.Caps == b.Caps && a.Site == b.Site && a.Office == b.Office && len(a.Grants) == len(b.Grants)
	}
	for s, d := range now.devices {
		if have, ok := r.devices[s]; !ok || !same(have, d) || (d.Office && !sameSites(r, now)) {
			out = append(out, s)
		}
	}
	for s := range r.devices {
		if _, ok := now.devices[s]; !ok {
			out = append(out, s)
		}
	}
	for s := range now.keys {
		if _, ok := r.keys[s]; !ok {
			out = append(out, s)
		}
	}
	for s := range now.roots {
		if _, ok := r.roots[s]; !ok {
			out = append(out, s)
		}
	}
	return out
}

// sameSites says whether the office speaks for the same sites in both.
func sameSites(a, b Roster) bool {
	for id, s := range b.sites {
		if a.sites[id].Accepted != s.Accepted {
			return false
		}
	}
	return len(a.sites) == len(b.sites)
}

// Device gives a certified device.
func (r Roster) Device(s entry.Stream) (Device, bool) {
	d, ok := r.devices[s]
	return d, ok
}

// Devices lists the certified streams of a site.
func (r Roster) Devices(site model.ID) map[entry.Stream]Device {
	out := map[entry.Stream]Device{}
	for s, d := range r.devices {
		if d.Site == site {
			out[s] = d
		}
	}
	return out
}

// Sites lists the sites of the family, by id.
func (r Roster) Sites() (out []Site) {
	for _, s := range r.sites {
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Site) int { return slices.Compare(a.ID[:], b.ID[:]) })
	return out
}

// Site gives one.
func (r Roster) Site(id model.ID) (Site, bool) {
	s, ok := r.sites[id]
	return s, ok
}

// Family says whether entries made under a root belong here.
func (r Roster) Family(d entry.District) bool { return d == r.District || r.family[d] }

// SiteOf is the site that a stream speaks for: a device's, or that of a site's key; ok is false for a root, and for whoever is not known.
func (r Roster) SiteOf(s entry.Stream) (site model.ID, ok bool) {
	if d, found := r.devices[s]; found {
		return d.Site, true
	}
	for id := range r.keys[s] {
		return id, len(r.keys[s]) == 1
	}
	return site, false
}

// Trusted says whether a stream belongs to the trust itself: a root's, or a site key's. Everybody gets those.
func (r Roster) Trusted(s entry.Stream) bool {
	_, root := r.roots[s]
	_, key := r.keys[s]
	return root || key
}

// Streams are all that ever worked for a site: its keys and its devices, also those that were removed.
func (r Roster) Streams(site model.ID) (out []entry.Stream) {
	for s, at := range r.keys {
		if _, ok := at[site]; ok {
			out = append(out, s)
		}
	}
	for s, d := range r.devices {
		if d.Site == site || slices.Contains(d.sites, site) {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b entry.Stream) int { return slices.Compare(a[:], b[:]) })
	return out
}
