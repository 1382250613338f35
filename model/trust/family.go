package trust

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// joins takes in the clinics that the district took in, each with its own root for its own site; grew says whether there are any. A word of a device of the office counts if it
// was ever certified for that, so that no later removal makes what a clinic stopped vanish.
func (b builder) joins() (grew bool) {
	b.each(model.KindJoined, func(v entry.Verified) {
		var j model.Joined
		if v.Body().District != b.Head || v.Body().Decode(&j) != nil || len(j.Root) != len(entry.District{}) {
			return
		}
		by := b.Roster.devices[v.Body().Stream]
		if !b.isRoot(v) && !(by.Office && by.ever&model.CapDistrict != 0) {
			return
		}
		root := entry.District(j.Root)
		if root == b.Head {
			return
		}
		grew = true
		if !b.family[root] {
			b.family[root] = true
			b.speakers(root)
		}
		b.sitesOf(root, []model.ID{j.Site})
		s, ok := b.sites[j.Site]
		if !ok { // nothing of the clinic has come yet
			s = Site{ID: j.Site, Root: root}
		}
		if s.Root == root {
			if s.Joined == (entry.ID{}) {
				s.Name, s.Code = j.Name, j.Code
			}
			s.Joined = v.ID() // asked again, from an older copy for one: it may accept any of them
			s.joins = append(s.joins, v.ID())
			b.sites[j.Site] = s
		}
	})
	return grew
}

// acceptances notes for which sites the district speaks: its own, and those of roots that accepted it with the words compared.
func (b builder) acceptances() {
	compared, bare := map[model.ID]bool{}, map[model.ID]bool{}
	proven := map[entry.ID]bool{}
	b.each(model.KindAccepted, func(v entry.Verified) {
		var a model.Accepted
		if v.Body().Decode(&a) != nil || len(a.Joined) != len(entry.ID{}) || len(a.District) != len(entry.District{}) || !b.isRoot(v) || entry.District(a.District) != b.Head {
			return
		}
		id := entry.ID(a.Joined)
		for site, s := range b.sites {
			if slices.Contains(s.joins, id) && s.Root == v.Body().District {
				compared[site], bare[site] = compared[site] || a.Compared, true
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
		s.Accepted = s.Root == b.Head || compared[id]
		s.Unproven = bare[id] && !compared[id]
		s.Proven = s.Root == b.Head || slices.ContainsFunc(s.joins, func(j entry.ID) bool { return proven[j] })
		b.sites[id] = s
	}
}
