package work

import (
	"encoding/hex"
	"strings"

	"mvuke/model"
)

// scanMark stands between a pack's number and the part of its entry's id in a bar code.
const scanMark = "*"

// scanBytes is how much of the id the code carries: two packs of one number are told apart by it.
const scanBytes = 5

// ScanCode is what a pack's bar code carries: its number, and a part of the id of the entry that made it.
func ScanCode(p PackView) string {
	id := p.MadeBy.ID()
	return strings.ToUpper(strings.ReplaceAll(p.Label, "-", "") + scanMark + hex.EncodeToString(id[:scanBytes]))
}

// ByNumber finds packs by what was typed or scanned: a whole number, or a whole bar code, which means one pack only.
func (d *Desk) ByNumber(text string) ([]model.ID, error) {
	number, part, scanned := strings.Cut(strings.TrimSpace(text), scanMark)
	ids, err := d.Store.PacksLabelled(number)
	if err != nil {
		return nil, d.unread(err)
	}
	if !scanned || len(ids) == 0 {
		return ids, nil
	}
	ps, err := d.packs(ids)
	if err != nil {
		return nil, err
	}
	for _, p := range ps {
		if id := p.MadeBy.ID(); p.Made != nil && strings.EqualFold(hex.EncodeToString(id[:scanBytes]), part) {
			return []model.ID{p.ID}, nil
		}
	}
	return nil, nil // the number is here, the pack that was scanned is not
}
