package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// ShelfCheck is a place of the shelf as it was scanned beside what the register says.
type ShelfCheck struct {
	Place   string
	Here    []PackView // scanned, and may lie on the shelf
	Wrong   []PackView // scanned, and should not lie among the good ones: held, expired, used, out by the register
	Missing []PackView // should be here by the register, and was not scanned
	Unknown []string   // scanned, and no pack of that number is known, or two are
}

// MostScanned bounds one count of a place.
const MostScanned = 250

// CheckShelf compares what was scanned at a place with the register. Nothing is written.
func (d *Desk) CheckShelf(place string, scanned []string) (c ShelfCheck, err error) {
	if c.Place = strings.TrimSpace(place); c.Place == "" {
		return c, refuse("shelf-place")
	}
	if len(scanned) > MostScanned {
		return c, refuse("shelf-many")
	}
	seen := map[model.ID]bool{}
	for _, text := range scanned {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		ids, err := d.ByNumber(text)
		if err != nil {
			return c, err
		}
		if len(ids) != 1 {
			c.Unknown = append(c.Unknown, text)
			continue
		}
		if seen[ids[0]] {
			continue
		}
		seen[ids[0]] = true
		p, err := d.Pack(ids[0])
		if err != nil {
			return c, err
		}
		if p.State.Good() && !p.Out() && !p.Unwrapped() {
			c.Here = append(c.Here, p)
		} else {
			c.Wrong = append(c.Wrong, p)
		}
	}
	site, err := d.SiteID()
	if err != nil {
		return c, err
	}
	ids, err := d.Store.LivePacks(site, livePacks)
	if err != nil {
		return c, d.unread(err)
	}
	all, err := d.packs(ids)
	for _, p := range all {
		if !seen[p.ID] && p.Where() == model.MoveStored && strings.EqualFold(p.Moves[len(p.Moves)-1].To, c.Place) && !p.NotFound {
			c.Missing = append(c.Missing, p)
		}
	}
	return c, err
}

// livePacks bounds the packs that a count of the shelf looks through.
const livePacks = 2000

// SaveShelf records a count: what was seen lies at the place now, what was missed is marked as not found until it turns up. It makes nothing
// good: what should not lie there is only named, and has its own acts.
func (d *Desk) SaveShelf(c ShelfCheck) error {
	p, err := d.Place()
	if err != nil {
		return err
	}
	x := model.ShelfCounted{Place: c.Place, At: d.Clock.Now().Wall.UnixMilli()}
	refs := []model.Ref{{Noun: model.NounSite, ID: p.ID}}
	add := func(to *[]model.ID, ps []PackView) {
		for _, p := range ps {
			if !slices.Contains(*to, p.ID) {
				*to, refs = append(*to, p.ID), append(refs, packRef(p.ID))
			}
		}
	}
	add(&x.Seen, c.Here)
	add(&x.Missing, c.Missing)
	_, err = d.sign(entry.Draft{Kind: model.KindShelfCount, Targets: refs, Payload: x})
	return err
}
