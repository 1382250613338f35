package trust

import (
	"crypto/ed25519"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Build folds the roster of a register with a root of its own. Order and doubling of the entries do not matter; entries of
// other kinds and of roots that do not belong are passed over.
func Build(own entry.District, entries []entry.Verified) Roster {
	r := Roster{District: own, Head: own, family: map[entry.District]bool{own: true}, roots: map[entry.Stream]entry.District{}, devices: map[entry.Stream]Device{},
		keys: map[entry.Stream]map[model.ID][]entry.ID{}, sites: map[model.ID]Site{}}
	seen := map[entry.ID]bool{}
	for _, v := range entries {
		if IsGrant(v) && !seen[v.ID()] {
			seen[v.ID()] = true
			r.from = append(r.from, v)
		}
	}
	slices.SortFunc(r.from, entry.Less)
	b := builder{Roster: &r}
	b.speakers(own)
	if head, ok := b.accepted(own); ok && head != own {
		r.Head = head
		r.family[head] = true
		b.speakers(head)
	}
	b.sitesOf(own, nil)
	if r.Head != own {
		b.sitesOf(r.Head, nil)
	}
	b.devices()
	b.removals() // whoever was removed takes nobody in after that
	if b.joins() {
		b.devices()
		b.removals()
	}
	b.acceptances()
	return r
}

type builder struct{ *Roster }

func (b builder) each(k model.Kind, do func(entry.Verified)) {
	for _, v := range b.from {
		if v.Body().Kind == k {
			do(v)
		}
	}
}

// speakers finds the streams that speak for a root: its own, and those of the keys that it named to follow it.
func (b builder) speakers(d entry.District) {
	for grew := true; grew; {
		grew = false
		for _, v := range b.from {
			s := v.Body().Stream
			if _, have := b.roots[s]; !have && v.Body().District == d && entry.DistrictOf(v.Sealed().Key) == d {
				b.roots[s], grew = d, true
			}
			var next model.Successor
			if v.Body().Kind != model.KindSuccessor || b.roots[s] != d || v.Body().District != d || v.Body().Decode(&next) != nil || len(next.Key) != ed25519.PublicKeySize {
				continue
			}
			if f := entry.StreamOf(next.Key); b.roots[f] != d {
				b.roots[f], grew = d, true
			}
		}
	}
}

// accepted is the district that a root took for its own; of several the last that it said.
func (b builder) accepted(root entry.District) (head entry.District, ok bool) {
	b.each(model.KindAccepted, func(v entry.Verified) {
		var a model.Accepted
		if v.Body().District == root && b.isRoot(v) && v.Body().Decode(&a) == nil && len(a.District) == len(head) {
			head, ok = entry.District(a.District), true
		}
	})
	return head, ok
}

// sitesOf takes in the sites that a root grants keys for; only: no other than these.
func (b builder) sitesOf(root entry.District, only []model.ID) {
	b.each(model.KindSiteGrant, func(v entry.Verified) {
		var g model.SiteGrant
		if v.Body().District != root || !b.isRoot(v) || v.Body().Decode(&g) != nil || len(g.Key) != ed25519.PublicKeySize {
			return
		}
		if only != nil && !slices.Contains(only, g.Site) {
			return
		}
		x, have := b.sites[g.Site]
		if have && x.Root != root { // two roots claim a site: it stays with the first, which is the register's own or the district's
			return
		}
		s := entry.StreamOf(g.Key)
		if b.keys[s] == nil {
			b.keys[s] = map[model.ID][]entry.ID{}
		}
		if !slices.Contains(b.keys[s][g.Site], v.ID()) {
			b.keys[s][g.Site] = append(b.keys[s][g.Site], v.ID())
		}
		x.ID, x.Root, x.Office = g.Site, root, x.Office || (g.Office && root == b.Head)
		if g.Code != "" {
			x.Code = g.Code
		}
		b.sites[g.Site] = x
	})
}

// devices folds the certificates anew.
func (b builder) devices() {
	clear(b.Roster.devices)
	b.each(model.KindDeviceGrant, func(v entry.Verified) {
		var g model.DeviceGrant
		if v.Body().Decode(&g) == nil && len(g.Key) == ed25519.PublicKeySize {
			b.certify(v, g)
		}
	})
}

// certify takes one grant in. Whoever any site's key or root ever named stays in the fold, so that no
// later grant makes its holds vanish; only a grant by the key of the device's own site gives caps, and
// several give what all of them allow.
func (b builder) certify(v entry.Verified, g model.DeviceGrant) {
	sites, isKey := b.keys[v.Body().Stream]
	root := b.isRoot(v)
	if !isKey && !root {
		return
	}
	s := entry.StreamOf(g.Key)
	have, known := b.Roster.devices[s]
	by, own := sites[g.Site]
	own = own || (root && b.sites[g.Site].Root == v.Body().District)
	if !known {
		have = Device{Site: g.Site, Letter: g.Letter}
	}
	have.sites, have.roots = append(have.sites, g.Site), append(have.roots, v.Body().District)
	if own {
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
		have.Office = b.sites[have.Site].Office
	}
	b.Roster.devices[s] = have
}

func (b builder) removals() {
	b.each(model.KindDeviceRemoved, func(v entry.Verified) { b.remove(v) })
}

func (b builder) remove(v entry.Verified) {
	var g model.DeviceRemoved
	if v.Body().Decode(&g) != nil || len(g.Stream) != len(entry.Stream{}) || g.Seq < 0 {
		return
	}
	s := entry.Stream(g.Stream)
	d, ok := b.Roster.devices[s]
	if !ok {
		return
	}
	by := b.Roster.devices[v.Body().Stream]
	allowed := by.Office && by.ever&model.CapDistrict != 0
	if root, ok := b.roots[v.Body().Stream]; ok {
		allowed = allowed || root == b.Head || slices.Contains(d.roots, root)
	}
	for _, site := range d.sites { // by what anybody was ever granted: no later grant undoes a removal
		_, isKey := b.keys[v.Body().Stream][site]
		allowed = allowed || isKey || (by.ever&model.CapManage != 0 && slices.Contains(by.sites, site))
	}
	if !allowed {
		return
	}
	if !d.Removed || uint64(g.Seq) < d.Cut {
		d.Removed, d.Cut = true, uint64(g.Seq)
	}
	b.Roster.devices[s] = d
}
