package trust

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// joins takes in the clinics that a district took in, each with its own root for its own site; grew says whether there are any. A word of a device of the office counts for being
// known if it was ever certified for that, so that no later removal makes what a clinic stopped vanish; a word after its cut-off lets nobody speak.
func (b builder) joins(heads []entry.District) (grew bool) {
	heads = append(heads, b.Head)
	type joining struct {
		v    entry.Verified
		j    model.Joined
		good bool
	}
	var list []joining
	b.each(model.KindJoined, func(v entry.Verified) {
		x := joining{v: v}
		if !slices.Contains(heads, v.Body().District) || v.Body().Decode(&x.j) != nil || len(x.j.Root) != len(entry.District{}) || entry.District(x.j.Root) == v.Body().District {
			return
		}
		by := b.Roster.devices[whose(v)]
		if !b.isRoot(v) && !(by.ever&model.CapDistrict != 0 && b.offices[by.Site] == v.Body().District) {
			return
		}
		x.good = v.Body().District == b.Head && b.Allows(v)
		list = append(list, x)
	})
	slices.SortStableFunc(list, func(x, y joining) int { // who speaks comes first
		switch {
		case x.good == y.good:
			return 0
		case x.good:
			return -1
		}
		return 1
	})
	for _, x := range list {
		root := entry.District(x.j.Root)
		grew = true
		b.family[root] = true
		s, ok := b.sites[x.j.Site]
		if !ok { // nothing of the clinic has come yet, or nothing but this
			s = Site{ID: x.j.Site, Root: root}
			b.sites[x.j.Site] = s
		}
		b.sitesOf(root, []model.ID{x.j.Site})
		s = b.sites[x.j.Site]
		switch {
		case s.Root != root:
			s.contested = s.contested || x.good
		default:
			if s.Joined == (entry.ID{}) {
				s.Name, s.Code = x.j.Name, x.j.Code
			}
			if x.good || s.Joined == (entry.ID{}) {
				s.Joined = x.v.ID() // asked again, from an older copy for one: it may accept any of them
			}
			if x.good {
				s.joins = append(s.joins, x.v.ID())
			}
		}
		b.sites[x.j.Site] = s
	}
	return grew
}

// acceptances notes for which sites the district speaks: its own, and those of roots that accepted it with the words compared.
func (b builder) acceptances() {
	compared, bare := map[model.ID][]entry.ID{}, map[model.ID]bool{}
	proven := map[entry.ID]bool{}
	b.each(model.KindAccepted, func(v entry.Verified) {
		var a model.Accepted
		if v.Body().Decode(&a) != nil || len(a.Joined) != len(entry.ID{}) || len(a.District) != len(entry.District{}) || !b.asRoot(v) || entry.District(a.District) != b.Head {
			return
		}
		for site, s := range b.sites { // it is the clinic's own word: whether the office's is here yet does not matter
			if s.Root == v.Body().District && s.Root != b.Head {
				bare[site] = true
				if a.Compared {
					compared[site] = append(compared[site], v.ID())
				}
			}
		}
	})
	b.each(model.KindProven, func(v entry.Verified) {
		var p model.Proven
		if v.Body().District == b.Head && v.Body().Decode(&p) == nil && len(p.Joined) == len(entry.ID{}) && b.Allows(v) {
			proven[entry.ID(p.Joined)] = true
		}
	})
	for id, s := range b.sites {
		s.accepts = compared[id]
		s.Accepted = !s.contested && (s.Root == b.Head || len(s.accepts) > 0)
		s.Unproven = bare[id] && len(s.accepts) == 0
		s.Proven = s.Root == b.Head || slices.ContainsFunc(s.joins, func(j entry.ID) bool { return proven[j] })
		b.sites[id] = s
	}
}
