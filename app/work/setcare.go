package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// SetStory is what happened to the pieces of a set, and what of it is away.
type SetStory struct {
	Events []SetEvent       // newest first
	Away   map[string]int64 // pieces at repair, by name
}

// SetEvent is one of these acts.
type SetEvent struct {
	model.SetCare
	By entry.Verified
}

// SetStory reads it.
func (d *Desk) SetStory(id model.ID) (s SetStory, err error) {
	st, err := d.noun(model.Ref{Noun: model.NounSet, ID: id})
	s.Away = map[string]int64{}
	for _, v := range st.Entries {
		var c model.SetCare
		if v.Body().Kind != model.KindSetCare || v.Body().Decode(&c) != nil {
			continue
		}
		s.Events = append(s.Events, SetEvent{c, v})
		switch c.What {
		case model.PieceToRepair:
			s.Away[c.Piece] += c.Count
		case model.PieceBack:
			s.Away[c.Piece] = max(s.Away[c.Piece]-c.Count, 0)
		}
	}
	slices.Reverse(s.Events)
	return s, err
}

// TellSetCare records that pieces went to repair, came back, were replaced or retired. A set is packed by what lies on the table: this
// says where the rest is.
func (d *Desk) TellSetCare(id model.ID, c model.SetCare) error {
	s, err := d.Set(id)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(s.List.Pieces, func(p model.Piece) bool { return p.Name == c.Piece })
	switch {
	case !slices.Contains(model.SetChanges, c.What):
		return refuse("set-change")
	case i < 0:
		return refuse("set-piece", c.Piece)
	case c.Count < 1 || c.Count > s.List.Pieces[i].Count:
		return refuse("piece-count", c.Piece)
	}
	story, err := d.SetStory(id)
	if err != nil {
		return err
	}
	if c.What == model.PieceBack && story.Away[c.Piece] < c.Count {
		return refuse("set-not-away", c.Piece)
	}
	c.Note, c.At = strings.TrimSpace(c.Note), d.Clock.Now().Wall.UnixMilli()
	_, err = d.sign(entry.Draft{Kind: model.KindSetCare, Targets: []model.Ref{{Noun: model.NounSet, ID: id}}, Payload: c})
	return err
}
