package trust

import (
	"maps"
	"reflect"
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

	ever  model.Caps // all caps that any grant gave: what it stopped with them stays stopped
	sites []model.ID // all sites that any grant named
}

// who is a key under the root that its entries name.
type who struct {
	stream entry.Stream
	root   entry.District
}

func whose(v entry.Verified) who { return who{v.Body().Stream, v.Body().District} }

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

	joins     []entry.ID
	accepts   []entry.ID // entries by which its root accepted the district, with the words compared
	contested bool       // the district let two roots in for it
}

// Roster is the folded trust of a register.
type Roster struct {
	District entry.District // of the register itself
	Head     entry.District // of the district that it belongs to; its own where it joined none

	family  map[entry.District]bool
	roots   map[entry.Stream]bool // streams that speak for a root of the family
	devices map[who]Device
	keys    map[who]map[model.ID][]entry.ID // site keys: the sites they were ever granted, by which entry
	sites   map[model.ID]Site
	lines   map[who]map[entry.ID]bool   // of a key that left: what it said until then
	rests   map[entry.ID][]entry.ID     // of a grant by one who came after the first root: the words that named him
	chairs  map[who]chair               // keys that were named for a root after its first, and those that named them
	offices map[model.ID]entry.District // sites that were ever an office, of a district that was ever accepted
	from    []entry.Verified            // what it was folded from
}

// Kinds are those that the roster is folded from.
var Kinds = []model.Kind{model.KindFounding, model.KindSiteGrant, model.KindDeviceGrant, model.KindDeviceRemoved, model.KindJoined, model.KindAccepted, model.KindProven, model.KindSucceeded}

// IsGrant says whether an entry is one that the roster is folded from.
func IsGrant(v entry.Verified) bool { return slices.Contains(Kinds, v.Body().Kind) }

// With is the roster as it would be with more entries.
func (r Roster) With(more []entry.Verified) Roster {
	return Build(r.District, append(slices.Clone(r.from), more...))
}

// Fork marks streams of which there are two branches: what they do for the good from the fork on does not count; their facts and holds do.
func (r Roster) Fork(forks map[entry.Stream]uint64) Roster {
	if len(forks) == 0 {
		return r
	}
	r.devices = maps.Clone(r.devices)
	for w, d := range r.devices {
		if seq := forks[w.stream]; seq > 0 {
			d.Forked = seq
			r.devices[w] = d
		}
	}
	return r
}

// Changed lists the streams of which the word counts otherwise in another roster. What others said of the nouns of a site is folded again with what the site's own streams said of them.
func (r Roster) Changed(now Roster) (out []entry.Stream) {
	seen := map[entry.Stream]bool{}
	add := func(streams ...entry.Stream) {
		for _, s := range streams {
			if !seen[s] {
				seen[s] = true
				out = append(out, s)
			}
		}
	}
	both := []Roster{r, now}
	for _, x := range both {
		for w := range x.devices {
			if r.Head != now.Head || !reflect.DeepEqual(r.devices[w], now.devices[w]) {
				add(w.stream)
			}
		}
		for w := range x.keys {
			if r.Head != now.Head || !reflect.DeepEqual(r.keys[w], now.keys[w]) {
				add(w.stream)
			}
		}
		for w := range x.chairs {
			if r.chairs[w] != now.chairs[w] {
				add(w.stream)
			}
		}
		for s := range x.roots {
			if r.Head != now.Head || r.roots[s] != now.roots[s] {
				add(s)
			}
		}
		for id := range x.sites {
			was, is := r.sites[id], now.sites[id]
			was.Name, was.Code, is.Name, is.Code = "", "", "", "" // what only names it
			if reflect.DeepEqual(was, is) {
				continue
			}
			add(append(r.Streams(id), now.Streams(id)...)...)
			if was.Accepted != is.Accepted || was.contested != is.contested || !slices.Equal(was.accepts, is.accepts) {
				for _, s := range now.sites { // the office's word for it
					if s.Office {
						add(now.Streams(s.ID)...)
					}
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b entry.Stream) int { return slices.Compare(a[:], b[:]) })
	return out
}

// Device gives a certified device, under our own root or that of the district where it is known to several.
func (r Roster) Device(s entry.Stream) (d Device, ok bool) {
	for _, root := range []entry.District{r.District, r.Head} {
		if d, ok = r.devices[who{s, root}]; ok {
			return d, true
		}
	}
	var first entry.District
	for w, x := range r.devices { // under a root of another clinic; of several, the first by root
		if w.stream == s && (!ok || slices.Compare(w.root[:], first[:]) < 0) {
			d, ok, first = x, true, w.root
		}
	}
	return d, ok
}

// DeviceOf gives the device that a key is under a root.
func (r Roster) DeviceOf(s entry.Stream, root entry.District) (Device, bool) {
	d, ok := r.devices[who{s, root}]
	return d, ok
}

// By gives the device that wrote an entry.
func (r Roster) By(v entry.Verified) (Device, bool) {
	d, ok := r.devices[whose(v)]
	return d, ok
}

// Devices lists the certified streams of a site.
func (r Roster) Devices(site model.ID) map[entry.Stream]Device {
	out := map[entry.Stream]Device{}
	for w, d := range r.devices {
		if d.Site == site && r.sites[site].Root == w.root {
			out[w.stream] = d
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

// SiteOf is the site that the author of an entry works for: a device's, or that of a site's key; ok is false for a root, for whoever is not known, and where the root that the entry
// names does not speak for that site.
func (r Roster) SiteOf(v entry.Verified) (site model.ID, ok bool) {
	if d, found := r.devices[whose(v)]; found {
		return d.Site, len(d.Grants) > 0 && r.owns(v.Body().District, d.Site)
	}
	keys := r.keys[whose(v)]
	for id := range keys {
		return id, len(keys) == 1 && r.owns(v.Body().District, id)
	}
	return site, false
}

// owns says whether a root speaks for a site.
func (r Roster) owns(root entry.District, site model.ID) bool {
	s, ok := r.sites[site]
	return ok && s.Root == root && (!s.contested || root == r.District)
}

// Certified is the site that the author of an entry works for by its certificate, whoever contests that site.
func (r Roster) Certified(v entry.Verified) (site model.ID, ok bool) {
	if d, found := r.devices[whose(v)]; found {
		return d.Site, len(d.Grants) > 0 && r.sites[d.Site].Root == v.Body().District
	}
	return r.SiteOf(v)
}

// WasOffice says whether an entry is by a device of an office, of the district or of one that was accepted before.
func (r Roster) WasOffice(v entry.Verified) bool {
	d, ok := r.devices[whose(v)]
	return ok && r.offices[d.Site] == v.Body().District
}

// Joins are the entries that took a site in.
func (r Roster) Joins(site model.ID) []entry.ID { return r.sites[site].joins }

// Trusted says whether a stream belongs to the trust itself: a root's, or a site key's, and no device's. Everybody gets those.
func (r Roster) Trusted(s entry.Stream) bool {
	for w, d := range r.devices {
		if w.stream == s && len(d.Grants) > 0 { // somebody else names a device's key as one of a site, to read what it writes
			return false
		}
	}
	if r.roots[s] {
		return true
	}
	for w := range r.keys {
		if w.stream == s {
			return true
		}
	}
	return false
}

// Streams are all that ever worked for a site, under the root of that site: its keys and its devices, also those that were removed.
func (r Roster) Streams(site model.ID) (out []entry.Stream) {
	root := r.sites[site].Root
	for w, at := range r.keys {
		if _, ok := at[site]; ok && w.root == root {
			out = append(out, w.stream)
		}
	}
	for w, d := range r.devices {
		if w.root == root && (d.Site == site || slices.Contains(d.sites, site)) {
			out = append(out, w.stream)
		}
	}
	slices.SortFunc(out, func(a, b entry.Stream) int { return slices.Compare(a[:], b[:]) })
	return slices.Compact(out)
}
