package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
)

// Shelf is what may be done with a pack now: a word, derived anew each time it is asked.
type Shelf string

// The words.
const (
	ShelfMade     Shelf = "made"      // packed, not sterilized
	ShelfLoaded   Shelf = "loaded"    // in a load that is not released
	ShelfReady    Shelf = "ready"     // may be used
	ShelfFirst    Shelf = "use-first" // may be used, and soon
	ShelfLabel    Shelf = "check-label"
	ShelfExpired  Shelf = "expired"
	ShelfHeld     Shelf = "held"
	ShelfUnknown  Shelf = "cannot-tell"
	ShelfUsed     Shelf = "used"
	ShelfSpoilt   Shelf = "spoilt"
	ShelfRejected Shelf = "rejected" // its load was rejected or given up: new wrap, new number
	ShelfNow      Shelf = "now"      // unwrapped: for immediate use, never on the shelf
)

// Is compares.
func (s Shelf) Is(x Shelf) bool { return s == x }

// Good says that a pack in this state may be opened for use; "check the label" leaves it to the label's date.
func (s Shelf) Good() bool {
	return s == ShelfReady || s == ShelfFirst || s == ShelfLabel || s == ShelfNow
}

// PackView is a pack with what may be done with it.
type PackView struct {
	register.Pack
	ID         model.ID
	State      Shelf
	Answer     register.Answer
	Cycle      register.Cycle
	HasCycle   bool
	Sterilized time.Time // where Known
	LastDay    time.Time // the last day of use, where Known and the wrap has days
	Known      bool      // the date is not in doubt
	House      model.ID  // site where it was made; zero: nobody knows
	At         model.ID  // site where it lies

	Ahead bool // the clock by which it was sterilized is known to have stood ahead: the date on its label is too late as well

	ended    bool       // used, opened or spoilt, by somebody whose word counts and who has it
	usedAt   []model.ID // sites where it was used
	heeds    bool       // the clinic that made it counts the office's word
	received bool       // another clinic sent it here
	gone     bool       // it lies at another clinic
}

// Out says that it is not in this house's hands.
func (p PackView) Out() bool {
	return p.gone || (p.Pack.Out() && !(p.received && p.Where() != model.MoveIssued))
}

// Over says that it was used, opened or spoilt, by somebody whose word counts and who has it; where a device that was taken out says so, somebody has to look.
func (p PackView) Over() bool { return p.Ended() && (p.ended || p.Used) }

// Elsewhere says that the pack lies at another clinic of the district.
func (p PackView) Elsewhere() bool { return p.gone }

// Borrowed says that the pack lies here and was made by another clinic.
func (p PackView) Borrowed() bool { return p.received }

// Unwrapped says that the pack lay unwrapped in its load.
func (p PackView) Unwrapped() bool { return p.HasCycle && p.Cycle.Begun.Item == model.Unwrapped }

// Pack reads one.
func (d *Desk) Pack(id model.ID) (PackView, error) {
	ps, err := d.packs([]model.ID{id})
	if err != nil {
		return PackView{}, err
	}
	return ps[0], nil
}

// packs views a list.
func (d *Desk) packs(ids []model.ID) (out []PackView, err error) {
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	sets, err := d.Store.ByKind(model.KindClockSet)
	if err != nil {
		return nil, d.unread(err)
	}
	now, doubtful := d.now(sets), d.ClockDoubtful()
	missing := false
	err = d.read(func(src register.Source) {
		own := d.ownSite(src.Roster())
		for _, id := range ids {
			p, ok := view(src, id, rules, sets, own)
			missing = missing || !ok
			out = append(out, p)
		}
	})
	if err != nil {
		return out, err
	}
	if err := d.shorter(out); err != nil {
		return out, err
	}
	for i := range out {
		out[i].State = out[i].word(now, doubtful, rules)
	}
	if missing {
		return out, refuse("no-such-pack")
	}
	return out, nil
}

// rulesRead are the rules of other sites as they were read last, until anything is told.
type rulesRead struct {
	of      *store.Store
	changes int64
	by      map[model.ID]model.Policies
}

func (d *Desk) theirRules(site model.ID) (model.Policies, error) {
	if now := d.Store.Changes(); d.rules.of != d.Store || d.rules.changes != now {
		d.rules = rulesRead{d.Store, now, map[model.ID]model.Policies{}}
	}
	if rules, known := d.rules.by[site]; known {
		return rules, nil
	}
	rules, _, err := d.rulesAt(site)
	if err == nil {
		d.rules.by[site] = rules
	}
	return rules, err
}

// shorter takes the last day by the rules of the clinic that made a pack where that is the earlier one: it stands on the label.
func (d *Desk) shorter(ps []PackView) error {
	own, err := d.SiteID()
	if err != nil {
		return err
	}
	for i, p := range ps {
		if p.House == own || p.House.IsZero() || p.LastDay.IsZero() {
			continue
		}
		rules, err := d.theirRules(p.House)
		if err != nil {
			return err
		}
		if days := ShelfDays(rules, p.Pack, p.Cycle.Begun.Item); days > 0 && LastDay(p.Sterilized, days).Before(p.LastDay) {
			ps[i].LastDay = LastDay(p.Sterilized, days)
		}
	}
	return nil
}

func view(src register.Source, id model.ID, rules model.Policies, sets []entry.Verified, own model.ID) (p PackView, ok bool) {
	p.ID = id
	if p.Pack, ok = register.PackOf(src, id); !ok {
		return p, false
	}
	p.House, _ = register.House(src, packRef(id))
	p.At = p.LiesAt(p.House)
	p.received = p.At == own && slices.ContainsFunc(register.Claimants(src, packRef(id)), func(x model.ID) bool { return x != own })
	p.gone = p.At != own && !p.At.IsZero()
	house, _ := src.Roster().Site(p.House)
	p.heeds = house.Accepted || house.Office
	p.Answer = register.IsUsable(src, packRef(id))
	for _, v := range p.Events {
		k := v.Body().Kind
		site, ok := src.Roster().SiteOf(v)
		if !ok || (k != model.KindPackOpened && k != model.KindPackSpoilt) {
			continue
		}
		var o model.PackOpened
		if k == model.KindPackOpened && v.Body().Decode(&o) == nil && (len(o.Use) > 0 || !o.Strip.Bad()) {
			p.usedAt = append(p.usedAt, site)
		}
		p.ended = p.ended || (!src.Roster().Gone(v) && (site == p.At || site == p.House))
	}
	if !p.Load.IsZero() {
		p.Cycle, p.HasCycle = register.CycleOf(src, p.Load)
	}
	if p.HasCycle {
		p.Sterilized, p.Known = began(p.Cycle, sets)
		p.Ahead = p.Cycle.Begun.Source != model.FromPaper && aheadBy(p.Cycle.Entry, sets, othersClock) // whoever says the day keeps the hour of the clock
		if days := ShelfDays(rules, p.Pack, p.Cycle.Begun.Item); days > 0 {
			p.LastDay = LastDay(p.Sterilized, days)
		}
	}
	return p, true
}

// ShelfDays are the days that a pack keeps by its wrap; 0: none, for immediate use. What was never packed here counts as cloth,
// the shortest.
func ShelfDays(rules model.Policies, p register.Pack, item model.Item) int64 {
	if item == model.Unwrapped {
		return 0
	}
	code := model.PolicyShelfCloth
	if p.Made != nil && !p.Made.Again && !p.TwoWraps { // a single-use wrap used again keeps no longer than cloth
		switch p.Made.Wrap {
		case model.WrapPaper:
			code = model.PolicyShelfPaper
		case model.WrapPouch:
			code = model.PolicyShelfPouch
		}
	}
	return rules.Value(code)
}

func (p PackView) word(now time.Time, doubtful bool, rules model.Policies) Shelf {
	switch {
	case p.Opened != nil:
		return ShelfUsed
	case p.Spoilt != nil:
		return ShelfSpoilt
	case !p.HasCycle && len(p.Answer.Holds) == 0 && p.Made != nil && len(p.Loads) == 0:
		return ShelfMade
	case slices.ContainsFunc(p.Answer.Holds, func(h register.Hold) bool { return h.Final }):
		return ShelfRejected
	}
	switch p.Answer.Word {
	case register.Held:
		return ShelfHeld
	case register.CannotTell:
		return ShelfUnknown
	case register.NotReleased:
		return ShelfLoaded
	}
	switch {
	case p.Ahead && !p.Unwrapped():
		return ShelfExpired
	case !p.Known || doubtful || dateOf(p.Sterilized).After(dateOf(now)): // sterilized tomorrow: one of the two dates is wrong
		if p.Unwrapped() {
			return ShelfExpired // nobody knows that it was just now
		}
		return ShelfLabel
	case p.Unwrapped() && now.Sub(p.Sterilized) > atOnce:
		return ShelfExpired
	case p.Unwrapped():
		return ShelfNow
	case dateOf(now).After(dateOf(p.LastDay)):
		return ShelfExpired
	case rules.On(model.PolicyUseFirst) && dateOf(now).After(dateOf(p.LastDay).AddDate(0, 0, -int(rules.Value(model.PolicyUseFirst)))):
		return ShelfFirst
	}
	return ShelfReady
}

// atOnce is how long after its fire was lit what has no wrap may still be used: the cycle itself, and an hour or two (common practice, no
// source).
const atOnce = 6 * time.Hour

// dateOf is the day of a time here, without its hour: a pack is good through its last day.
func dateOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// OnShelf lists packs that were neither opened nor spoilt, to be used first first.
func (d *Desk) OnShelf(limit int) ([]PackView, error) {
	site, err := d.SiteID()
	if err != nil {
		return nil, err
	}
	ids, err := d.Store.LivePacks(site, max(limit, shelfLately))
	if err != nil {
		return nil, d.unread(err)
	}
	ps, err := d.packs(ids)
	slices.SortStableFunc(ps, func(a, b PackView) int {
		if x, y := shelfOrder(a), shelfOrder(b); x != y {
			return x - y
		}
		return a.LastDay.Compare(b.LastDay) // first in, first out
	})
	return ps[:min(len(ps), limit)], err
}

// shelfLately is how many packs that were neither opened nor spoilt are put into order: the newest.
const shelfLately = 250

var order = []Shelf{ShelfHeld, ShelfExpired, ShelfFirst, ShelfLabel, ShelfReady, ShelfUnknown, ShelfLoaded, ShelfMade, ShelfNow, ShelfRejected}

func shelfOrder(p PackView) int {
	if i := slices.Index(order, p.State); i >= 0 {
		return i
	}
	return len(order)
}

// FindPacks looks for packs by any part of number or set.
func (d *Desk) FindPacks(text string, limit int) ([]PackView, error) {
	ids, err := d.Store.FindPacks(text, limit)
	if err != nil {
		return nil, d.unread(err)
	}
	return d.packs(ids)
}
