package work

import (
	"maps"
	"slices"
	"strconv"
	"time"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

// Urgency orders the lines of Today by harm.
type Urgency int

// Urgencies, gravest first.
const (
	Stop Urgency = iota
	Now
	Soon
	Note
)

// Line is one line of Today; Code and Args are for the catalogue ("today." + Code).
type Line struct {
	Urgency Urgency
	Code    string
	Args    []string
	Go      string   // where it is settled: pot, release, cycle, clock, setup, people
	Cycle   model.ID // where it is about one

	Elsewhere bool // at the office: a clinic's row says it too
}

// Today lists what waits, in order of harm.
func (d *Desk) Today() (out []Line, err error) {
	add := func(u Urgency, code, place string, c model.ID, args ...string) {
		out = append(out, Line{Urgency: u, Code: code, Go: place, Cycle: c, Args: args})
	}
	p, err := d.Place()
	if err != nil {
		return nil, err
	}
	for _, pot := range p.Pots {
		if len(pot.Also) > 0 {
			add(Stop, "two-gauges", "compare", pot.ID, pot.Looks.Name)
		} else if pot.Two {
			add(Stop, "two-values", "clashes", model.ID{}, pot.Looks.Name)
		}
		if pot.Out {
			add(Stop, "pot-out", "tests", model.ID{}, pot.Looks.Name)
		}
	}
	if err := d.todayRestored(add); err != nil { // what is missing may be any bad news
		return nil, err
	}
	if err := d.todayMissing(add); err != nil { // it may be in a patient
		return nil, err
	}
	called, there, under, err := d.todayRecalls(add)
	if err != nil {
		return nil, err
	}
	for i, l := range out {
		out[i].Elsewhere = l.Code == "recall" && there[l.Cycle]
	}
	doubted, err := d.todayDoubt(p, called, add)
	if err != nil {
		return nil, err
	}
	maps.Copy(called, doubted) // one line says it
	if err := d.todayStopped(p, called, add); err != nil {
		return nil, err
	}
	if err := d.todayCycles(doubted, under, add); err != nil {
		return nil, err
	}
	if d.ClockDoubtful() {
		add(Now, "clock", "clock", model.ID{})
	}
	if d.Memory == home.MemoryNone {
		add(Note, "copy", "", model.ID{})
	}
	if err := d.todayCarried(add); err != nil {
		return nil, err
	}
	if free := home.FreeBytes(d.Dir); free >= 0 && free < home.LowRoom {
		add(Now, "disk-low", "", model.ID{}, strconv.FormatInt(free>>20, 10))
	}
	if err := d.todayPots(p, add); err != nil {
		return nil, err
	}
	if err := d.todayUnwrap(add); err != nil {
		return nil, err
	}
	if err := d.todayShelf(add); err != nil {
		return nil, err
	}
	if err := d.todayCare(p, add); err != nil {
		return nil, err
	}
	if err := d.todayHeights(p, add); err != nil {
		return nil, err
	}
	if err := d.todayChanges(p, add); err != nil {
		return nil, err
	}
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	if err := d.todaySpores(p, rules, add); err != nil {
		return nil, err
	}
	if err := d.todayActions(p, add); err != nil {
		return nil, err
	}
	if err := d.todayStock(add); err != nil {
		return nil, err
	}
	sortLines(out)
	return out, nil
}

func sortLines(ls []Line) { // few lines: keep the order within an urgency
	for i := 1; i < len(ls); i++ {
		for j := i; j > 0 && ls[j].Urgency < ls[j-1].Urgency; j-- {
			ls[j], ls[j-1] = ls[j-1], ls[j]
		}
	}
}

func (d *Desk) todayCycles(doubted, under map[model.ID]bool, add func(Urgency, string, string, model.ID, ...string)) error {
	ids, err := d.openCycles()
	if err != nil {
		return err
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return err
		}
		n := strconv.FormatInt(c.Begun.Number, 10)
		switch {
		case c.Closed == nil && d.gone(c.Entry):
		case c.Closed == nil:
			r, err := d.Judge(c)
			if err != nil {
				return err
			}
			add(Now, "on-fire", "pot", id, n, strconv.Itoa(int(r.Running)), strconv.FormatInt(c.Begun.Plan.Minutes, 10))
		case c.ToConfirm:
			add(Stop, "to-confirm", "release", id, n)
		case doubted[id] && onlyDoubted(c): // the line of its pot leads to it
		case held(c) && under[id]: // its recall leads to it, and says where each pack is
		case held(c):
			add(Stop, "held", "release", id, n)
		default:
			add(Now, "to-release", "release", id, n, strconv.Itoa(len(c.Begun.Packs)))
		}
	}
	return nil
}

// onlyDoubted says that a load is held, and by nothing but what was found out since.
func onlyDoubted(c register.Cycle) bool {
	return held(c) && !slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool { return h.Open() && !slices.Contains(register.Doubts, h.Code) })
}

func held(c register.Cycle) bool { return c.State.Stopped() }

func (d *Desk) todayPots(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	rules, err := d.Rules()
	if err != nil {
		return err
	}
	for _, pot := range p.Pots {
		g, err := d.gauge(pot, rules)
		if err != nil {
			return err
		}
		if plan, err := d.Plan(pot, p.Site, model.Wrapped, nil); err == nil && plan.Plan.Refused != nil {
			add(Stop, "no-mark", "setup", model.ID{}, pot.Looks.Name)
		}
		if g.Standing != steam.Compared {
			add(Soon, "gauge-"+string(g.Standing), "compare", pot.ID, pot.Looks.Name)
		}
		if card, old, err := d.CardStale(pot, p.Site); err != nil {
			return err
		} else if old {
			add(Now, "card-old", "card", pot.ID, strconv.FormatInt(card.Number, 10))
		}
	}
	return nil
}

// LatestCard is the last wall card made for a pot; ok is false where there is none.
func (d *Desk) LatestCard(pot model.ID) (card model.CardMade, ok bool, err error) {
	vs, err := d.Store.ByKind(model.KindCardMade)
	if err != nil {
		return card, false, err
	}
	for _, v := range vs {
		var c model.CardMade
		if v.Body().Decode(&c) == nil && c.Sterilizer == pot && c.Number >= card.Number && d.allows(v) {
			card, ok = c, true
		}
	}
	return card, ok, nil
}

// CardStale says whether the card on the wall no longer holds: another mark, line, limit or
// minutes would be planned today, or its days are over.
func (d *Desk) CardStale(pot Pot, site model.Site) (model.CardMade, bool, error) {
	card, ok, err := d.LatestCard(pot.ID)
	if err != nil || !ok {
		return card, false, err
	}
	p, err := d.Plan(pot, site, card.Item, nil)
	if err != nil {
		return card, true, nil
	}
	f, c := p.Frozen, card.Plan
	same := f.MarkMilli == c.MarkMilli && f.RestartMilli == c.RestartMilli && f.LimitMilli == c.LimitMilli && f.Minutes == c.Minutes && f.Unit == c.Unit
	now, err := d.Date()
	if err != nil {
		return card, false, err
	}
	over := d.ClockDoubtful() || now.UnixMilli() > card.VoidAfter
	return card, !same || over, nil
}

// MakeCard numbers a wall card for a pot and records it. A pot without a mark gets none.
func (d *Desk) MakeCard(pot Pot, site model.Site, item model.Item) (model.CardMade, Planned, error) {
	if d.Practice {
		return model.CardMade{}, Planned{}, refuse("gate.practice")
	}
	p, err := d.Plan(pot, site, item, nil)
	if err != nil {
		return model.CardMade{}, p, err
	}
	if p.Plan.Refused != nil {
		return model.CardMade{}, p, refuse("no-mark")
	}
	last, _, err := d.LatestCard(pot.ID)
	if err != nil {
		return model.CardMade{}, p, err
	}
	void := d.Clock.Now().Wall.Add(time.Duration(p.Rules.Value(model.PolicyCardDays)) * 24 * time.Hour)
	c := model.CardMade{Number: last.Number + 1, Sterilizer: pot.ID, Plan: p.Frozen, Item: item, VoidAfter: void.UnixMilli()}
	_, err = d.sign(entry.Draft{Kind: model.KindCardMade, Payload: c, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: pot.ID}}})
	return c, p, err
}
