package work

import (
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// Found is what one search box finds: packs and sets by any part of number or name, cycles by their number, people by any part of
// their name, and packs by the whole register number of their use.
type Found struct {
	Packs  []PackView
	Sets   []Set
	Cycles []model.ID
	People []Tile
	Uses   []PackView
}

// Find looks everywhere.
func (d *Desk) Find(text string, limit int) (f Found, err error) {
	if text = strings.TrimSpace(text); text == "" {
		return f, nil
	}
	if f.Packs, err = d.FindPacks(text, limit); err != nil {
		return f, err
	}
	sets, err := d.Sets()
	if err != nil {
		return f, err
	}
	low := strings.ToLower(text)
	for _, s := range sets {
		if strings.Contains(strings.ToLower(s.List.Name), low) {
			f.Sets = append(f.Sets, s)
		}
	}
	people, err := d.People()
	if err != nil {
		return f, err
	}
	for _, p := range people {
		if strings.Contains(strings.ToLower(p.Person.Name), low) {
			f.People = append(f.People, p)
		}
	}
	if n, e := strconv.ParseInt(text, 10, 64); e == nil {
		if f.Cycles, err = d.Store.CyclesNumbered(n); err != nil {
			return f, d.unread(err)
		}
	}
	ids, err := d.usedFor(text)
	if err != nil || len(ids) == 0 {
		return f, err
	}
	for _, id := range ids { // a note may be of a pack that is not here: in a register that came from a copy
		p, err := d.Pack(id)
		if isRefusal(err, "no-such-pack") {
			continue
		}
		if err != nil {
			return f, err
		}
		f.Uses = append(f.Uses, p)
	}
	return f, nil
}

// LastIssued are the places that packs were issued to last, the latest first, each once.
func (d *Desk) LastIssued(most int) (out []string, err error) {
	own, _, err := d.house()
	if err != nil {
		return out, err
	}
	looked := 0
	_, err = d.Store.LatestWhile(model.KindPackMoved, func(v entry.Verified) bool {
		var m model.PackMoved
		if looked++; v.Body().Decode(&m) == nil && m.What == model.MoveIssued && m.To != "" && !slices.Contains(out, m.To) {
			out = append(out, m.To)
		}
		return len(out) < most && looked < 60
	}, own...)
	return out, err
}

// usedFor finds packs by the whole register number of their use, in the notes that lie here.
func (d *Desk) usedFor(number string) (out []model.ID, err error) {
	if !LooksLikeNumber(number) {
		return nil, nil
	}
	dir := filepath.Join(d.Dir, notesDir)
	files, err := os.ReadDir(dir)
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	for _, file := range files {
		b, err := d.fs.ReadFile(filepath.Join(dir, file.Name()))
		var n note
		if err != nil || json.Unmarshal(b, &n) != nil || !strings.EqualFold(n.Number, number) {
			continue
		}
		if id, err := hex.DecodeString(n.Pack); err == nil && len(id) == 16 {
			out = append(out, model.ID(id))
		}
	}
	return out, nil
}
