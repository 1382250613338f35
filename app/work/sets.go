package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Set is a set list with its id.
type Set struct {
	ID   model.ID
	List model.SetList
	Two  bool // stated differently at once: somebody settles it
}

// MostPieces is the longest list.
const MostPieces = 120

// Sets lists the set lists in use, by name.
func (d *Desk) Sets() (out []Set, err error) {
	_, heard, err := d.house()
	if err != nil {
		return nil, err
	}
	vs, err := d.Store.ByKind(model.KindSetList, heard...)
	if err != nil {
		return nil, d.unread(err)
	}
	err = d.read(func(src register.Source) {
		seen := map[model.ID]bool{}
		for _, v := range vs {
			for _, ref := range v.Body().Refs() {
				if ref.Noun != model.NounSet || seen[ref.ID] {
					continue
				}
				seen[ref.ID] = true
				l, two, ok := register.Described[model.SetList](register.Of(src, ref), model.KindSetList)
				if ok && !l.Gone {
					out = append(out, Set{ref.ID, l, two})
				}
			}
		}
	})
	slices.SortFunc(out, func(a, b Set) int { return strings.Compare(strings.ToLower(a.List.Name), strings.ToLower(b.List.Name)) })
	return out, err
}

// Set reads one.
func (d *Desk) Set(id model.ID) (s Set, err error) {
	ok := false
	err = d.read(func(src register.Source) {
		s.List, s.Two, ok = register.Described[model.SetList](register.Of(src, model.Ref{Noun: model.NounSet, ID: id}), model.KindSetList)
	})
	if s.ID = id; err == nil && !ok {
		err = refuse("no-such-set")
	}
	return s, err
}

// SaveSet states a set list, new (zero id) or anew.
func (d *Desk) SaveSet(id model.ID, l model.SetList) (model.ID, error) {
	if err := d.mayManage(); err != nil {
		return id, err
	}
	if l.Name = strings.TrimSpace(l.Name); l.Name == "" {
		return id, refuse("set-missing")
	}
	if len(l.Pieces) == 0 || l.Total() > MostPieces {
		return id, refuse("set-pieces", strconv.Itoa(MostPieces))
	}
	all, err := d.Sets()
	if err != nil {
		return id, err
	}
	for _, s := range all {
		if s.ID != id && strings.EqualFold(s.List.Name, l.Name) {
			return id, refuse("name-taken", l.Name)
		}
	}
	var old []entry.ID
	if id.IsZero() {
		id = d.NewID()
	} else if err := d.read(func(src register.Source) {
		old = d.values(src, model.Ref{Noun: model.NounSet, ID: id}, model.KindSetList)
	}); err != nil {
		return id, err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindSetList, Targets: []model.Ref{{Noun: model.NounSet, ID: id}}, Replaces: old, Payload: l})
	return id, err
}

// Packed is what went into a pack by its list: the list less what was left out. Nothing where it was packed without a list, or the list is
// another since and no longer fits.
func (d *Desk) Packed(p PackView) (out []model.Piece) {
	if p.Made == nil || p.Made.List.IsZero() {
		return nil
	}
	s, err := d.Set(p.Made.List)
	if err != nil {
		return nil
	}
	left := map[string]int64{}
	for _, x := range p.Made.Short {
		left[x.Piece] += x.Want - x.Have
	}
	var total int64
	for _, x := range s.List.Pieces {
		if x.Count -= left[x.Name]; x.Count > 0 {
			out = append(out, x)
			total += x.Count
		}
	}
	if total != p.ToComeBack() {
		return nil
	}
	return out
}

// InHand counts the packs of a set that were neither used nor spoilt, by what may be done with them.
func (d *Desk) InHand(id model.ID) (map[Shelf]int, error) {
	ps, err := d.OnShelf(shelfLately)
	n := map[Shelf]int{}
	for _, p := range ps {
		if p.Made != nil && p.Made.List == id {
			n[p.State]++
		}
	}
	return n, err
}

// ShelfOrder are the words in the order of the shelf.
func ShelfOrder() []Shelf { return slices.Clone(order) }

// MostOfPiece is how many of one piece a list may name.
const MostOfPiece = 50

// NeverInASet says whether a piece is one of those that must never go into a pot: the words for them are the language's.
func NeverInASet(piece string, never []string) bool {
	return slices.ContainsFunc(never, func(bad string) bool {
		return bad != "" && strings.Contains(strings.ToLower(piece), strings.ToLower(bad))
	})
}

// ParsePieces reads a list as people write it, a piece a line: a number in front is how many, a star behind says that the set goes
// without it too. What must never go into a set is refused.
func ParsePieces(text string, never []string) (out []model.Piece, err error) {
	for line := range strings.Lines(text) {
		line = strings.Join(strings.Fields(strings.ReplaceAll(line, "\u00ad", "")), " ")
		if line == "" {
			continue
		}
		p := model.Piece{Count: 1, Essential: true}
		if rest, ok := strings.CutSuffix(line, "*"); ok {
			p.Essential, line = false, strings.TrimSpace(rest)
		}
		if first, rest, ok := strings.Cut(line, " "); ok {
			if n, e := strconv.ParseInt(strings.TrimRight(first, "x×"), 10, 64); e == nil {
				if n < 1 || n > MostOfPiece {
					return nil, refuse("piece-count", line)
				}
				p.Count, line = n, strings.TrimSpace(rest)
			}
		}
		if NeverInASet(line, never) {
			return nil, refuse("piece-never", line)
		}
		p.Name = line
		out = append(out, p)
	}
	return out, nil
}

// WritePieces writes a list as ParsePieces reads it.
func WritePieces(ps []model.Piece) string {
	var b strings.Builder
	for _, p := range ps {
		b.WriteString(strconv.FormatInt(p.Count, 10) + " " + p.Name)
		if !p.Essential {
			b.WriteString(" *")
		}
		b.WriteString("\n")
	}
	return b.String()
}

// counted checks what is short of a list: nothing essential may be.
func (d *Desk) counted(f PackForm) error {
	if f.List.IsZero() {
		return nil
	}
	s, err := d.Set(f.List)
	if err != nil {
		return err
	}
	var short int64
	for _, x := range f.Short {
		named := false
		for _, p := range s.List.Pieces {
			named = named || p.Name == x.Piece
			if p.Name == x.Piece && p.Essential && x.Have < x.Want {
				return refuse("piece-essential", x.Piece, s.List.Name)
			}
		}
		if !named || x.Have < 0 || x.Want < x.Have {
			return refuse("count-list", s.List.Name)
		}
		short += x.Want - x.Have
	}
	if f.Listed != s.List.Total() || f.Present != f.Listed-short { // what is not there must be named
		return refuse("count-list", s.List.Name)
	}
	return nil
}
