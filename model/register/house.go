package register

import (
	"mvuke/model"
	"mvuke/model/entry"
)

// Every noun has a house: the site where it was first told of. In a district of many sites a device speaks for its own site's pots, packs and people; the office for all
// that accepted the district; anybody may stop anything.

// founding is the kind that tells of a noun first.
var founding = map[model.Noun]model.Kind{
	model.NounSterilizer: model.KindSterilizer, model.NounGauge: model.KindGauge, model.NounPerson: model.KindPerson, model.NounSet: model.KindSetList,
	model.NounReference: model.KindReference, model.NounCycle: model.KindCycleBegun, model.NounPack: model.KindPackMade,
}

// House is the site that a noun belongs to. ok is false where nobody who may has told of it, and where two sites did: then nobody but the office speaks for it.
func House(src Source, ref model.Ref) (site model.ID, ok bool) {
	if ref.Noun == model.NounSite {
		return ref.ID, true
	}
	sites := housesBy(src, ref, founding[ref.Noun])
	if len(sites) == 0 && ref.Noun == model.NounPack { // it was never made here: it came with its load
		sites = housesBy(src, ref, model.KindCycleBegun)
	}
	for id := range sites {
		site = id
	}
	return site, len(sites) == 1
}

func housesBy(src Source, ref model.Ref, kind model.Kind) map[model.ID]bool {
	roster := src.Roster()
	own, office := map[model.ID]bool{}, map[model.ID]bool{}
	for _, v := range src.Targeting(ref) {
		if v.Body().Kind != kind || !(roster.Allows(v) || roster.Once(v)) {
			continue
		}
		site, ok := roster.SiteOf(v.Body().Stream)
		if !ok {
			continue
		}
		if s, _ := roster.Site(site); s.Office {
			office[site] = true // what the office says of a clinic's noun does not make it the office's
		} else {
			own[site] = true
		}
	}
	if len(own) == 0 {
		return office
	}
	return own
}

// Speaks says whether an entry's author speaks for a noun. Of policies, devices and tests, which belong to no one house, it is true: who reads them looks for which site they
// are.
func Speaks(src Source, v entry.Verified, ref model.Ref) bool {
	if _, housed := founding[ref.Noun]; !housed && ref.Noun != model.NounSite {
		return true
	}
	if site, ok := House(src, ref); ok {
		return src.Roster().Speaks(v, site)
	}
	dev, ok := src.Roster().Device(v.Body().Stream)
	return ok && dev.Office
}
