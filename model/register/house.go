package register

import (
	"maps"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Every noun has a house: the site where it was first told of. In a district of many sites a device speaks for its own site's pots, packs and people; the office for all
// that accepted the district; anybody may stop anything.

// founding is the kind that tells of a noun first.
var founding = map[model.Noun]model.Kind{
	model.NounSterilizer: model.KindSterilizer, model.NounGauge: model.KindGauge, model.NounPerson: model.KindPerson, model.NounSet: model.KindSetList,
	model.NounReference: model.KindReference, model.NounCycle: model.KindCycleBegun, model.NounPack: model.KindPackMade, model.NounRecall: model.KindRecall,
}

// House is the site that a noun belongs to. ok is false where nobody who may has told of it first, and where two sites say that they did: then nobody speaks for it, but on the register
// of one of these sites that site.
func House(src Source, ref model.Ref) (site model.ID, ok bool) {
	if ref.Noun == model.NounSite {
		return ref.ID, true
	}
	roster := src.Roster()
	claims := claimants(src, ref)
	for _, good := range claims {
		if good { // who was removed takes no noun from who was not
			maps.DeleteFunc(claims, func(_ model.ID, good bool) bool { return !good })
			break
		}
	}
	ours := 0
	for id, good := range claims {
		if s, _ := roster.Site(id); s.Root == roster.District && good {
			ours++
			site = id
		}
	}
	if ours == 0 {
		for id := range claims {
			site = id
		}
	}
	if ours > 1 || (ours == 0 && len(claims) != 1) {
		return model.ID{}, false
	}
	return site, true
}

// claimants are the sites of which a device, or a key, told of a noun first: what replaces another's word tells of nothing new. A pack is first told of where it is made, or, without
// that, with its load; both count. The value says whether one of them may still say so.
func claimants(src Source, ref model.Ref) map[model.ID]bool {
	roster := src.Roster()
	out := map[model.ID]bool{}
	about := src.Targeting
	if ref.Noun != model.NounPack && founding[ref.Noun] != 0 { // a pot has thousands of other entries
		about = func(ref model.Ref) []entry.Verified { return TargetingKind(src, ref, founding[ref.Noun]) }
	}
	for _, v := range about(ref) {
		if !founds(v, ref) || !(roster.Allows(v) || roster.Once(v)) {
			continue
		}
		if site, ok := roster.Certified(v); ok {
			out[site] = out[site] || roster.Allows(v)
		}
	}
	return out
}

// Claimants are the sites that say that a noun is theirs.
func Claimants(src Source, ref model.Ref) (out []model.ID) {
	for id := range claimants(src, ref) {
		out = append(out, id)
	}
	slices.SortFunc(out, func(a, b model.ID) int { return slices.Compare(a[:], b[:]) })
	return out
}

// founds says whether an entry is of the kind that tells of a noun first.
func founds(v entry.Verified, ref model.Ref) bool {
	k := v.Body().Kind
	if ref.Noun == model.NounPack && k == model.KindCycleBegun {
		return true
	}
	return k == founding[ref.Noun] && k != 0 && len(v.Body().Replaces) == 0
}

// Founding are the entries that give a noun its house. A clear of somebody else's stop names one, so that none that comes later can make it count.
func Founding(src Source, ref model.Ref) (out []entry.ID) {
	site, ok := House(src, ref)
	for _, v := range src.Targeting(ref) {
		if at, known := src.Roster().SiteOf(v); ok && known && at == site && founds(v, ref) {
			out = append(out, v.ID())
		}
	}
	return out[:min(len(out), mostFounding)]
}

// mostFounding is how many a clear names: one is enough.
const mostFounding = 8

// teller knows who speaks for one noun; it is worked out once for all of the noun's entries.
type teller struct {
	src    Source
	ref    model.Ref
	site   model.ID
	all    bool // the noun belongs to no one house: who reads it looks for which site an entry is
	nobody bool // nobody has told of it first: whoever tells of it is heard
	ok     bool
}

func tellerOf(src Source, ref model.Ref) (t teller) {
	t.src, t.ref = src, ref
	if _, housed := founding[ref.Noun]; !housed && ref.Noun != model.NounSite {
		t.all = true
		return t
	}
	t.site, t.ok = House(src, ref)
	t.nobody = !t.ok && len(claimants(src, ref)) == 0
	return t
}

// speaks says whether an entry's author speaks for the noun.
func (t teller) speaks(v entry.Verified) bool {
	return t.all || (t.ok && t.src.Roster().Speaks(v, t.site))
}

// own says whether an entry is of the noun's own site, or of the office and names the acceptance: none that comes later can make it one.
func (t teller) own(v entry.Verified) bool {
	if t.all || t.nobody {
		return true
	}
	if site, ok := t.src.Roster().SiteOf(v); ok && t.ok && site == t.site {
		return true
	}
	return t.speaks(v) && slices.ContainsFunc(t.src.Roster().Acceptances(t.site), func(id entry.ID) bool { return slices.Contains(v.Body().Relies, id) })
}

// hears says whether good news of an author is heard: of who speaks for the noun, or works where it lies.
func (t teller) hears(v entry.Verified, at model.ID) bool {
	if t.nobody || t.speaks(v) {
		return true
	}
	site, ok := t.src.Roster().SiteOf(v)
	return ok && !at.IsZero() && site == at
}

// Speaks says whether an entry's author speaks for a noun. Of policies, devices and tests, which belong to no one house, it is true: who reads them looks for which site they
// are.
func Speaks(src Source, v entry.Verified, ref model.Ref) bool { return tellerOf(src, ref).speaks(v) }

// lifts says whether the author of a clear may lift a hold on a noun: that of the site that laid it; else who speaks for the noun, naming what gives it its house.
func lifts(src Source, v entry.Verified, h Hold, ref model.Ref) bool {
	if src.Roster().Together(v, h.Cause) {
		return true
	}
	if len(claimants(src, ref)) > 1 { // of what two sites call theirs, each lifts what it laid
		return false
	}
	return Speaks(src, v, ref) && (ref.Noun == model.NounSite || slices.ContainsFunc(Founding(src, ref), func(id entry.ID) bool { return slices.Contains(v.Body().Relies, id) }))
}
