// Package trust says who may do what: which devices may sign for a site, up to
// where in their streams, and who is on the people tiles. It is a pure fold of
// entries; there is no list outside the register.
//
//   - The root's own stream (the stream that founds the district) grants sites.
//   - A site's key grants devices for that site, each with caps.
//   - A removal by the root, by the site's key or by a managing device of the
//     site wins over every grant of that stream; of two removals the lower
//     cut-off counts.
//   - A device that was once certified and is later removed keeps its facts and holds; its
//     releases and clears after the cut-off do not count.
//   - A device that was never certified is not in the fold at all.
package trust

import (
	"crypto/ed25519"
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
	Forked  uint64     // first number of which there are two entries; 0: none
	Cut     uint64     // last seq counted for the good, where Removed
	ever    model.Caps // all caps that any grant gave: what it stopped with them stays stopped
	sites   []model.ID // all sites that any grant named
	Grants  []Grant    // what certifies it; a release names it, so that a later grant opens nothing
}

// Grant is how a device came to its caps: the entry that names it, and those that name the key which
// signed that (none where the root itself signed).
type Grant struct {
	Device entry.ID
	Site   []entry.ID
}

// Roster is the folded trust of one district.
type Roster struct {
	District entry.District
	devices  map[entry.Stream]Device
	sites    map[entry.Stream]map[model.ID][]entry.ID // site keys: the sites they were ever granted, by which entry
	from     []entry.Verified                         // what it was folded from
}

// Kinds are those that the roster is folded from.
var Kinds = []model.Kind{model.KindFounding, model.KindSiteGrant, model.KindDeviceGrant, model.KindDeviceRemoved}

// Build folds the roster. Order and doubling of the entries do not matter; entries of
// other kinds and of other districts are passed over.
func Build(d entry.District, entries []entry.Verified) Roster {
	r := Roster{District: d, devices: map[entry.Stream]Device{}, sites: map[entry.Stream]map[model.ID][]entry.ID{}}
	for _, v := range entries {
		if IsGrant(v) {
			r.from = append(r.from, v)
		}
	}
	each := func(k model.Kind, do func(entry.Verified)) {
		for _, v := range entries {
			if v.Body().Kind == k && v.Body().District == d {
				do(v)
			}
		}
	}
	each(model.KindSiteGrant, func(v entry.Verified) {
		var g model.SiteGrant
		if r.isRoot(v) && v.Body().Decode(&g) == nil && len(g.Key) == ed25519.PublicKeySize {
			s := entry.StreamOf(g.Key)
			if r.sites[s] == nil {
				r.sites[s] = map[model.ID][]entry.ID{}
			}
			r.sites[s][g.Site] = append(r.sites[s][g.Site], v.ID())
		}
	})
	each(model.KindDeviceGrant, func(v entry.Verified) {
		var g model.DeviceGrant
		if v.Body().Decode(&g) != nil || len(g.Key) != ed25519.PublicKeySize {
			return
		}
		r.certify(v, g)
	})
	each(model.KindDeviceRemoved, func(v entry.Verified) { r.remove(v) })
	return r
}

// certify takes one grant in. Whoever any site's key or the root ever named stays in the fold, so that no
// later grant makes its holds vanish; only a grant by the key of the device's own site gives caps, and
// several give what all of them allow.
func (r *Roster) certify(v entry.Verified, g model.DeviceGrant) {
	sites, isSite := r.sites[v.Body().Stream]
	if !isSite && !r.isRoot(v) {
		return
	}
	s := entry.StreamOf(g.Key)
	have, known := r.devices[s]
	by, own := sites[g.Site]
	if !known {
		have = Device{Site: g.Site, Letter: g.Letter}
	}
	have.sites = append(have.sites, g.Site)
	if own || r.isRoot(v) {
		have.ever |= g.Caps
		switch {
		case len(have.Grants) == 0:
			have.Site, have.Letter = g.Site, g.Letter
		case have.Site != g.Site: // two sites claim one stream with right: it may do nothing
			g.Caps = 0
		default:
			g.Caps &= have.Caps
		}
		have.Caps = g.Caps
		have.Grants = append(have.Grants, Grant{Device: v.ID(), Site: by})
	}
	r.devices[s] = have
}

func (r *Roster) isRoot(v entry.Verified) bool {
	return entry.DistrictOf(v.Sealed().Key) == r.District
}

func (r *Roster) remove(v entry.Verified) {
	var g model.DeviceRemoved
	if v.Body().Decode(&g) != nil || len(g.Stream) != len(entry.Stream{}) || g.Seq < 0 {
		return
	}
	s := entry.Stream(g.Stream)
	d, ok := r.devices[s]
	if !ok {
		return
	}
	by := r.devices[v.Body().Stream]
	allowed := r.isRoot(v)
	for _, site := range d.sites { // by what anybody was ever granted: no later grant undoes a removal
		_, isSite := r.sites[v.Body().Stream][site]
		allowed = allowed || isSite || (by.ever&model.CapManage != 0 && slices.Contains(by.sites, site))
	}
	if !allowed {
		return
	}
	if !d.Removed || uint64(g.Seq) < d.Cut {
		d.Removed, d.Cut = true, uint64(g.Seq)
	}
	r.devices[s] = d
}

// Changed lists the streams of which the word counts otherwise in another roster.
func (r Roster) Changed(now Roster) (out []entry.Stream) {
	same := func(a, b Device) bool {
		return a.Removed == b.Removed && a.Cut == b.Cut && a.Forked == b.Forked && a.Caps == b.Caps && a.Site == b.Site && len(a.Grants) == len(b.Grants)
	}
	for s, d := range now.devices {
		if have, ok := r.devices[s]; !ok || !same(have, d) {
			out = append(out, s)
		}
	}
	for s := range r.devices {
		if _, ok := now.devices[s]; !ok {
			out = append(out, s)
		}
	}
	for s := range now.sites {
		if _, ok := r.sites[s]; !ok {
			out = append(out, s)
		}
	}
	return out
}

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

// Known says whether the author is in the fold at all: the root, a site's key or a
// device that is or was certified.
func (r Roster) Known(v entry.Verified) bool {
	if v.Body().District != r.District {
		return false
	}
	_, site := r.sites[v.Body().Stream]
	_, device := r.devices[v.Body().Stream]
	return r.isRoot(v) || site || device
}

// Allows says whether the author may do this for the good: certified, not past
// its cut-off, and with the cap that the kind asks for.
func (r Roster) Allows(v entry.Verified) bool {
	b := v.Body()
	if b.District != r.District {
		return false
	}
	if r.isRoot(v) {
		return b.Kind != model.KindRelease && b.Kind != model.KindClear // a device does that, on evidence
	}
	if _, ok := r.sites[b.Stream]; ok {
		return b.Kind == model.KindDeviceGrant || b.Kind == model.KindDeviceRemoved || b.Kind == model.KindPerson
	}
	d, ok := r.devices[b.Stream]
	if !ok || (d.Removed && b.Seq > d.Cut) || (d.Forked > 0 && b.Seq >= d.Forked) {
		return false
	}
	need := b.Kind.Needs()
	return d.Caps&need == need
}

// Gone says whether an entry is by a device that had been removed when it was written, or whose word never counted: for the bad it counts, for the good it does not. (Of a
// copied device the facts of both branches count.)
func (r Roster) Gone(v entry.Verified) bool {
	d, ok := r.devices[v.Body().Stream]
	return !ok || d.Caps&model.CapRecord == 0 || (d.Removed && v.Body().Seq > d.Cut)
}

// Once says whether the author may not do this now, but was once certified to: a device that was removed, or copied. What such a device asks for more of still counts
// (a higher place, a longer hold); what it asks for less of does not.
func (r Roster) Once(v entry.Verified) bool {
	need := v.Body().Kind.Needs()
	return v.Body().District == r.District && !r.Allows(v) && r.devices[v.Body().Stream].ever&need == need && need != 0
}

// Copied says whether the author would be allowed this if there were no second branch of its stream.
func (r Roster) Copied(v entry.Verified) bool {
	d := r.devices[v.Body().Stream]
	return d.Forked > 0 && !(d.Removed && v.Body().Seq > d.Cut) && d.Caps&v.Body().Kind.Needs() == v.Body().Kind.Needs()
}

// Can says whether the author has a cap, whatever the kind asks for.
func (r Roster) Can(v entry.Verified, c model.Caps) bool {
	d, ok := r.devices[v.Body().Stream]
	return ok && r.Allows(v) && d.Caps&c == c
}

// NamesGrant says whether an entry relies on a grant of its own device: it was written
// in knowledge of its authority, so no grant that comes later can make it count.
func (r Roster) NamesGrant(v entry.Verified) bool {
	relies := v.Body().Relies
	return slices.ContainsFunc(r.devices[v.Body().Stream].Grants, func(g Grant) bool {
		return slices.Contains(relies, g.Device) &&
			(len(g.Site) == 0 || slices.ContainsFunc(g.Site, func(id entry.ID) bool { return slices.Contains(relies, id) }))
	})
}
