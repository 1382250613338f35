package trust

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Known says whether the author is in the fold at all: a root, a site's key or a
// device that is or was certified, under a root of the family.
func (r Roster) Known(v entry.Verified) bool {
	_, key := r.keys[whose(v)]
	_, device := r.devices[whose(v)]
	return r.Family(v.Body().District) && (key || device || r.isRoot(v))
}

// Allows says whether the author may do this for the good: certified, not past
// its cut-off, and with the cap that the kind asks for. For which site is another question: see Speaks.
func (r Roster) Allows(v entry.Verified) bool {
	b := v.Body()
	if !r.Family(b.District) {
		return false
	}
	if r.isRoot(v) {
		return r.asRoot(v) && b.Kind != model.KindRelease && b.Kind != model.KindClear // a device does that, on evidence
	}
	if sites, ok := r.keys[whose(v)]; ok {
		return named(sites) && (b.Kind == model.KindDeviceGrant || b.Kind == model.KindDeviceRemoved || b.Kind == model.KindPerson)
	}
	d, ok := r.devices[whose(v)]
	if !ok || (d.Removed && b.Seq > d.Cut) || (d.Forked > 0 && b.Seq >= d.Forked) {
		return false
	}
	need := b.Kind.Needs()
	return d.Caps&need == need
}

// named says whether a key was named for a site by whoever might.
func named(sites map[model.ID][]entry.ID) bool {
	for _, by := range sites {
		if len(by) > 0 {
			return true
		}
	}
	return false
}

// Speaks says whether the author's word is for a site: of a device or key of that site, or of the office for a clinic of which the root accepted the district. A root speaks for its
// own sites. A release or clear of the office names the acceptance: none that comes later can make it count.
func (r Roster) Speaks(v entry.Verified, site model.ID) bool {
	s, ok := r.sites[site]
	if !ok {
		return false
	}
	if r.isRoot(v) {
		return r.asRoot(v) && r.owns(v.Body().District, site)
	}
	if own, ok := r.SiteOf(v); ok && own == site {
		return true
	}
	if !r.devices[whose(v)].Office || !s.Accepted {
		return false
	}
	if k := v.Body().Kind; k != model.KindRelease && k != model.KindClear {
		return true
	}
	return slices.ContainsFunc(s.accepts, func(id entry.ID) bool { return slices.Contains(v.Body().Relies, id) })
}

// Acceptances are the entries by which a site's root accepted the district, with the words compared.
func (r Roster) Acceptances(site model.ID) []entry.ID { return r.sites[site].accepts }

// Together says whether one entry's author speaks for the site of another's.
func (r Roster) Together(v, of entry.Verified) bool {
	site, ok := r.SiteOf(of)
	return ok && r.Speaks(v, site)
}

// Gone says whether an entry is by a device that had been removed when it was written, or whose word never counted: for the bad it counts, for the good it does not. (Of a
// copied device the facts of both branches count.)
func (r Roster) Gone(v entry.Verified) bool {
	d, ok := r.devices[whose(v)]
	return !ok || d.Caps&model.CapRecord == 0 || (d.Removed && v.Body().Seq > d.Cut)
}

// Once says whether the author may not do this now, but was once certified to: a device that was removed, or copied. What such a device asks for more of still counts
// (a higher place, a longer hold); what it asks for less of does not.
func (r Roster) Once(v entry.Verified) bool {
	need := v.Body().Kind.Needs()
	return r.Family(v.Body().District) && !r.Allows(v) && r.devices[whose(v)].ever&need == need && need != 0
}

// Copied says whether the author would be allowed this if there were no second branch of its stream.
func (r Roster) Copied(v entry.Verified) bool {
	d := r.devices[whose(v)]
	return d.Forked > 0 && !(d.Removed && v.Body().Seq > d.Cut) && d.Caps&v.Body().Kind.Needs() == v.Body().Kind.Needs()
}

// Can says whether the author has a cap, whatever the kind asks for.
func (r Roster) Can(v entry.Verified, c model.Caps) bool {
	d, ok := r.devices[whose(v)]
	return ok && r.Allows(v) && d.Caps&c == c
}

// NamesGrant says whether an entry relies on a grant of its own device: it was written
// in knowledge of its authority, so no grant that comes later can make it count.
func (r Roster) NamesGrant(v entry.Verified) bool {
	relies := v.Body().Relies
	names := func(id entry.ID) bool {
		return slices.Contains(relies, id) && !slices.ContainsFunc(r.rests[id], func(on entry.ID) bool { return !slices.Contains(relies, on) })
	}
	return slices.ContainsFunc(r.devices[whose(v)].Grants, func(g Grant) bool {
		return names(g.Device) && (len(g.Site) == 0 || slices.ContainsFunc(g.Site, names))
	})
}

// RestsOn are the words by which those who signed grants came after the first root; whoever names the grants names these too.
func (r Roster) RestsOn(grants ...entry.ID) (out []entry.ID) {
	for _, id := range grants {
		for _, on := range r.rests[id] {
			if !slices.Contains(out, on) {
				out = append(out, on)
			}
		}
	}
	return out
}
