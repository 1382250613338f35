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
	r := Roster{District: own, Head: own, family: map[entry.District]bool{}, roots: map[entry.Stream]bool{}, devices: map[who]Device{},
		keys: map[who]map[model.ID][]entry.ID{}, sites: map[model.ID]Site{}, chairs: map[who]chair{}, lines: map[who]map[entry.ID]bool{}, rests: map[entry.ID][]entry.ID{}, offices: map[model.ID]entry.District{}}
	seen := map[entry.ID]bool{}
	for _, v := range entries {
		if IsGrant(v) && !seen[v.ID()] {
			seen[v.ID()] = true
			r.from = append(r.from, v)
		}
	}
	slices.SortFunc(r.from, entry.Less)
	b := builder{&r}
	b.chairs()
	b.family[own] = true
	heads := b.accepted(own)
	for _, head := range heads {
		b.family[head] = true
	}
	b.sitesOf(own, nil)
	for _, head := range heads {
		b.sitesOf(head, nil)
	}
	b.devices()
	b.removals() // whoever was removed takes nobody in after that
	if b.joins(heads) {
		b.devices()
		b.removals()
	}
	b.acceptances()
	for _, v := range r.from {
		if r.isRoot(v) {
			r.roots[v.Body().Stream] = true
		}
	}
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

// accepted are the districts that a root took for its own. The last one speaks for it with which the words were compared; one that nobody compared displaces none that was.
func (b builder) accepted(root entry.District) (heads []entry.District) {
	compared := false
	b.each(model.KindAccepted, func(v entry.Verified) {
		var a model.Accepted
		if v.Body().District != root || !b.isRoot(v) || v.Body().Decode(&a) != nil || len(a.District) != len(entry.District{}) {
			return
		}
		heads = append(heads, entry.District(a.District))
		if b.asRoot(v) && (a.Compared || !compared) {
			b.Head, compared = entry.District(a.District), compared || a.Compared
		}
	})
	return heads
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
		s := who{entry.StreamOf(g.Key), root}
		if b.keys[s] == nil {
			b.keys[s] = map[model.ID][]entry.ID{}
		}
		good := b.asRoot(v)
		if by := b.keys[s][g.Site]; good && !slices.Contains(by, v.ID()) {
			b.keys[s][g.Site] = append(by, v.ID())
			b.rest(v)
		} else {
			b.keys[s][g.Site] = by // the key is known, and may certify nobody by this
		}
		if have && x.Root != root { // two roots claim a site: it stays with the first, which is the register's own, the district's, or that which was let in; this one's keys are known
			return
		}
		x.ID, x.Root, x.Office = g.Site, root, x.Office || (g.Office && good && root == b.Head)
		if g.Office {
			b.offices[g.Site] = root
		}
		if g.Code != "" && good {
			x.Code = g.Code
		}
		b.sites[g.Site] = x
	})
}

// rest notes what an entry by one who came after the first root rests on.
func (b builder) rest(v entry.Verified) {
	if on := b.restsOn(v); len(on) > 0 {
		b.rests[v.ID()] = on
	}
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

// certify takes one grant in, for entries that name the same root. Whoever any site's key or root ever named stays in the fold, so that no
// later grant makes its holds vanish; only a grant by the key of the device's own site gives caps, and
// several give what all of them allow.
func (b builder) certify(v entry.Verified, g model.DeviceGrant) {
	sites, isKey := b.keys[whose(v)]
	root := b.isRoot(v)
	if !isKey && !root {
		return
	}
	w := who{entry.StreamOf(g.Key), v.Body().District}
	have, known := b.Roster.devices[w]
	by, own := sites[g.Site]
	own = (own && len(by) > 0) || (b.asRoot(v) && b.sites[g.Site].Root == v.Body().District)
	if !known {
		have = Device{Site: g.Site, Letter: g.Letter}
	}
	have.sites = append(have.sites, g.Site)
	if b.offices[g.Site] != w.root { // only an office lets clinics in
		g.Caps &^= model.CapDistrict
	}
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
		b.rest(v)
		have.Grants = append(have.Grants, Grant{Device: v.ID(), Site: by})
		have.Office = b.sites[have.Site].Office && b.sites[have.Site].Root == w.root
	}
	b.Roster.devices[w] = have
}

// removals are folded in two rounds: first what a site, or a root, says of its own devices; then what the office says of others', as far as the office's device was not removed itself.
func (b builder) removals() {
	for _, round := range []bool{false, true} {
		b.each(model.KindDeviceRemoved, func(v entry.Verified) { b.remove(v, round) })
	}
}

// remove ends a key, under whatever roots somebody named it who may be told so by this author.
func (b builder) remove(v entry.Verified, byOffice bool) {
	var g model.DeviceRemoved
	if v.Body().Decode(&g) != nil || len(g.Stream) != len(entry.Stream{}) || g.Seq < 0 {
		return
	}
	by := b.Roster.devices[whose(v)]
	for w, d := range b.Roster.devices {
		if w.stream != entry.Stream(g.Stream) {
			continue
		}
		allowed := byOffice && by.Office && by.ever&model.CapDistrict != 0 && !(by.Removed && v.Body().Seq > by.Cut)
		if b.isRoot(v) {
			allowed = allowed || v.Body().District == b.Head || v.Body().District == w.root
		}
		for _, site := range d.sites { // by what anybody was ever granted: no later grant undoes a removal
			_, isKey := b.keys[whose(v)][site]
			allowed = allowed || (v.Body().District == w.root && (isKey || (by.ever&model.CapManage != 0 && slices.Contains(by.sites, site))))
		}
		if allowed && (!d.Removed || uint64(g.Seq) < d.Cut) {
			d.Removed, d.Cut = true, uint64(g.Seq)
			b.Roster.devices[w] = d
		}
	}
}
