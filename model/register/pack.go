package register

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
)

// Pack is one pack as its entries tell it. Whether it may be used is for IsUsable alone.
type Pack struct {
	State     State
	Label     string   // as on the label; of packs never made here, as it was written down with its load
	Also      []string // other numbers that it was told with: each leads here
	Set       string
	Made      *model.PackMade
	MadeBy    entry.Verified
	Loads     []entry.Verified // first entries of the cycles that it went into
	Load      model.ID         // the latest of these cycles
	Moves     []model.PackMoved
	TwoWraps  bool // its wrap was told differently: the shortest shelf life counts
	Opened    *model.PackOpened
	OpenedBy  entry.Verified
	Used      bool     // opened on somebody, by any word: whatever else was said of it
	Uses      [][]byte // hashes of the register numbers of every use that was told
	Spoilt    *model.PackSpoilt
	SpoiltBy  []entry.Verified
	Counted   *model.SetCounted
	CountedBy entry.Verified
	Lost      *model.PieceLost // the search for a piece that is missing by this count was closed
	NotFound  bool             // at the last count of its place
	Prints    int64
	most      int64            // pieces, where it was told with more at another time
	Events    []entry.Verified // all that is told of it, in the order of showing
}

// PackOf reads a pack; ok is false where nothing is known of it but claims.
func PackOf(src Source, id model.ID) (p Pack, ok bool) {
	p.State = Of(src, model.Ref{Noun: model.NounPack, ID: id})
	tell := tellerOf(src, p.State.Ref)
	for _, v := range p.State.Entries {
		ok = true
		if (passed(tell, v, p.LiesAt(tell.site)) && !p.fewer(v)) || p.elsewhere(tell, v) || (v.Body().Kind == model.KindPieceLost && !(src.Roster().Allows(v) && Speaks(src, v, p.State.Ref))) {
			continue
		}
		p.Events = append(p.Events, v)
		p.take(v, id)
	}
	return p, ok
}

func (p *Pack) take(v entry.Verified, id model.ID) {
	b := v.Body()
	switch b.Kind {
	case model.KindPackMade:
		var m model.PackMade
		if b.Decode(&m) == nil && p.Made != nil {
			p.TwoWraps = p.TwoWraps || m.Wrap != p.Made.Wrap
			p.Also, p.most = append(p.Also, m.Label), max(p.most, m.Present)
		} else if b.Decode(&m) == nil {
			p.Made, p.MadeBy, p.Label, p.Set = &m, v, m.Label, m.Set
		}
	case model.KindCycleBegun:
		p.load(v, id)
	case model.KindPackMoved:
		var m model.PackMoved
		if b.Decode(&m) == nil {
			p.Moves, p.NotFound = append(p.Moves, m), false
		}
	case model.KindShelfCount:
		var c model.ShelfCounted
		if b.Decode(&c) != nil {
			return
		}
		p.NotFound = slices.Contains(c.Missing, id)
		if slices.Contains(c.Seen, id) && !p.Out() {
			p.Moves = append(p.Moves, model.PackMoved{What: model.MoveStored, To: c.Place, At: c.At})
		}
	case model.KindPackOpened:
		var o model.PackOpened
		_ = b.Decode(&o) // what cannot be read was opened all the same
		p.Used = p.Used || len(o.Use) > 0 || !o.Strip.Bad()
		if len(o.Use) > 0 {
			p.Uses = append(p.Uses, o.Use)
		}
		if p.Opened == nil || o.Strip.Bad() {
			p.Opened, p.OpenedBy = &o, v
		}
	case model.KindPackSpoilt:
		var s model.PackSpoilt
		_ = b.Decode(&s)
		p.Spoilt = &s
		p.SpoiltBy = append(p.SpoiltBy, v)
	case model.KindSetCounted:
		var c model.SetCounted
		if b.Decode(&c) == nil {
			c.Listed = max(c.Listed, p.ToComeBack())                       // a later count cannot expect fewer
			if p.Counted == nil || !p.Missing() || after(v, p.CountedBy) { // the worst count stands until one that was made in knowledge of it
				p.Counted, p.CountedBy, p.Lost = &c, v, nil
			}
		}
	case model.KindPieceLost:
		var l model.PieceLost
		if b.Decode(&l) == nil && !p.CountedBy.IsZero() && slices.Contains(b.Relies, p.CountedBy.ID()) {
			p.Lost = &l
		}
	case model.KindLabel:
		p.Prints++
	}
}

// after says whether an entry was written in knowledge of another: it names it, or is a later one of the same device.
func after(v, w entry.Verified) bool {
	return slices.Contains(v.Body().Relies, w.ID()) || (v.Body().Stream == w.Body().Stream && v.Body().Seq > w.Body().Seq)
}

// ToComeBack is how many pieces were packed, or were to come back at an earlier count: none is let fall by asking for fewer.
func (p *Pack) ToComeBack() (n int64) {
	if p.Made != nil {
		n = max(p.Made.Present, p.most)
	}
	if p.Counted != nil {
		n = max(n, p.Counted.Listed)
	}
	return n
}

// Missing says that a piece did not come back, was not counted at the end of the procedure, and its search was not closed: it may be
// in the patient.
func (p *Pack) Missing() bool {
	return p.Counted != nil && p.Counted.Present < p.Counted.Listed && !p.Counted.Counted && p.Lost == nil
}

func (p *Pack) load(v entry.Verified, id model.ID) {
	p.Loads = append(p.Loads, v)
	for _, r := range v.Body().Refs() {
		if r.Noun == model.NounCycle {
			p.Load = r.ID
		}
	}
	var c model.CycleBegun
	if p.Made != nil || v.Body().Decode(&c) != nil {
		return
	}
	if i := slices.IndexFunc(c.Packs, func(x model.LoadPack) bool { return x.ID == id }); i >= 0 {
		p.Label, p.Set = c.Packs[i].Label, c.Packs[i].Set
	}
}

// Where is the last place that it was said to be at; "" before it was ever moved.
func (p Pack) Where() model.Move {
	if len(p.Moves) == 0 {
		return ""
	}
	return p.Moves[len(p.Moves)-1].What
}

// fewer says whether an entry counted fewer pieces than were packed: bad news, whoever tells it and whatever it says that there should be.
func (p *Pack) fewer(v entry.Verified) bool {
	var c model.SetCounted
	return v.Body().Kind == model.KindSetCounted && v.Body().Decode(&c) == nil && !c.Counted && c.Present < p.ToComeBack()
}

// elsewhere says whether an entry tells that the pack was set aside, or came back, and is not from where it lies; home it may come, too.
func (p Pack) elsewhere(tell teller, v entry.Verified) bool {
	var m model.PackMoved
	if v.Body().Kind != model.KindPackMoved || v.Body().Decode(&m) != nil || (m.What != model.MoveAside && m.What != model.MoveBack) {
		return false
	}
	site, ok := tell.src.Roster().SiteOf(v)
	if m.What == model.MoveBack && ok && site == tell.site {
		return false
	}
	return !ok || site != p.LiesAt(tell.site)
}

// LiesAt is the site where the pack lies: its house, until it was sent or lent to another clinic of the district.
func (p Pack) LiesAt(house model.ID) model.ID {
	for _, m := range p.Moves {
		switch {
		case !m.Site.IsZero() && (m.What == model.MoveSent || m.What == model.MoveLent):
			house = m.Site
		case m.What == model.MoveBack && !m.Site.IsZero():
			house = m.Site
		}
	}
	return house
}

// Out says that it is not in this house's hands.
func (p Pack) Out() bool {
	switch p.Where() {
	case model.MoveIssued, model.MoveLent, model.MoveSent:
		return true
	}
	return false
}

// Ended says that it can never be used again.
func (p Pack) Ended() bool { return p.Opened != nil || p.Spoilt != nil }
