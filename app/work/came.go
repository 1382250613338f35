package work

import (
	"maps"
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

// What came in on a stick, in the trade's words, and on which day.

// Came are the things that are counted of what came in, in the trade's words.
var Came = []string{"recalls", "holds", "cycles", "packs", "releases", "spores", "other"}

// Came counts one of them.
func (b Brought) Came(what string) (n int) {
	for k, m := range b.Kinds {
		if cameAs(k) == what {
			n += m
		}
	}
	return n
}

func cameAs(k model.Kind) string {
	switch k {
	case model.KindHold, model.KindReject, model.KindPackSpoilt, model.KindIncident:
		return "holds"
	case model.KindRecall, model.KindRecallTold, model.KindRecallEnd:
		return "recalls"
	case model.KindCycleBegun:
		return "cycles"
	case model.KindPackMade:
		return "packs"
	case model.KindRelease:
		return "releases"
	case model.KindSporeRead:
		return "spores"
	}
	return "other"
}

// arrived notes of which sites something new came today, and gives them.
func (d *Desk) arrived(news []entry.Verified) (of map[model.ID]bool, err error) {
	now, err := d.Date()
	if err != nil {
		return nil, err
	}
	of = map[model.ID]bool{}
	if err := d.read(func(src register.Source) {
		for _, v := range news {
			if site, ok := src.Roster().SiteOf(v); ok {
				of[site] = true
			}
		}
	}); err != nil {
		return nil, err
	}
	if err := d.Store.Arrived(now, !d.ClockDoubtful(), slices.Collect(maps.Keys(of))...); err != nil && !store.Full(err) { // what was brought is safe: only that it came today is not written down
		return nil, d.unread(err)
	}
	return of, nil
}
