package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/register"
)

// Lists and sums of months.

// CyclesAt are the latest cycles of a clinic.
func (d *Desk) CyclesAt(site model.ID, limit int) (out []register.Cycle, err error) {
	ids, err := d.Store.LatestCycles(site, limit)
	if err != nil {
		return nil, d.unread(err)
	}
	return d.cycles(ids)
}

func (d *Desk) cycles(ids []model.ID) (out []register.Cycle, err error) {
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// AtSite is a cycle with the name of the clinic that ran it.
type AtSite struct {
	register.Cycle
	Site string
}

// CyclesOfAll are the latest cycles of our site, or at the office of every clinic, clinic by clinic.
func (d *Desk) CyclesOfAll(limit int) (out []AtSite, err error) {
	sites, err := d.Sites()
	if err != nil {
		return nil, err
	}
	office, err := d.Office()
	if err != nil {
		return nil, err
	}
	for _, s := range sites {
		if s.Own == office { // the office runs none, a clinic lists its own
			continue
		}
		list, err := d.CyclesAt(s.ID, limit)
		if err != nil {
			return nil, err
		}
		for _, c := range list {
			out = append(out, AtSite{c, s.Name})
		}
	}
	return out, nil
}

// Worst are the gaps of a month that matter most, gravest first: at most n.
func (m Month) Worst(n int) (out []Gap) {
	for _, f := range m.Sites {
		add := func(weight int, code string, args ...string) {
			out = append(out, Gap{f.Name, code, args, weight})
		}
		if !f.Reported { // said in a line of its own
			continue
		}
		if f.InDoubt > 0 {
			add(80, "in-doubt", short(float64(f.InDoubt)))
		}
		if f.Behind > 0 {
			add(70, "behind", short(float64(f.Behind)))
		}
		if f.Undated > 0 {
			add(60, "undated", short(float64(f.Undated)))
		}
		if f.RecallsOpen > 0 {
			add(100, "recall", short(float64(f.RecallsOpen)))
		}
		if f.Grew > 0 {
			add(90, "grew", short(float64(f.Grew)))
		}
		if f.Lit > 0 && f.Negatives == 0 {
			add(70, "no-negative")
		}
		if rate, ok := f.Rate(); ok && rate < LeastRate {
			add(50+int(LeastRate-rate)/3, "rate", short(rate))
		}
		if f.Wet > 0 {
			add(30, "wet", short(float64(f.Wet)))
		}
		if n, ok := f.Short(); ok && n > 0 {
			add(40, "stock-out", short(float64(n)))
		}
	}
	slices.SortStableFunc(out, func(a, b Gap) int { return b.weight - a.weight })
	var first, rest []Gap // of each clinic the gravest, then the others: one clinic does not hide the next
	seen := map[string]bool{}
	for _, g := range out {
		if seen[g.Site] {
			rest = append(rest, g)
		} else {
			seen[g.Site], first = true, append(first, g)
		}
	}
	out = append(first, rest...)
	return out[:min(n, len(out))]
}

// Unheard are the clinics of which the month is not here.
func (m Month) Unheard() (names []string) {
	for _, f := range m.Sites {
		if !f.Reported {
			names = append(names, f.Name)
		}
	}
	return names
}

// Gap is something that is wrong at a clinic; Code and Args are for the catalogue ("gap." + Code).
type Gap struct {
	Site   string
	Code   string
	Args   []string
	weight int
}

// Grave says that it may hurt somebody: an open recall, a growth, loads in doubt.
func (g Gap) Grave() bool { return g.weight >= 80 }

// Add adds the figures of another clinic, where it reported.
func (f *Figures) Add(o Figures) {
	if !o.Reported {
		return
	}
	f.Lit, f.Aborted, f.Held, f.Released, f.Rejected = f.Lit+o.Lit, f.Aborted+o.Aborted, f.Held+o.Held, f.Released+o.Released, f.Rejected+o.Rejected
	f.Behind += o.Behind
	f.Unknown, f.Trials, f.Packs, f.Wet, f.Opened = f.Unknown+o.Unknown, f.Trials+o.Trials, f.Packs+o.Packs, f.Wet+o.Wet, f.Opened+o.Opened
	f.VentMinutes, f.HoldMinutes, f.Vents, f.Holds = f.VentMinutes+o.VentMinutes, f.HoldMinutes+o.HoldMinutes, f.Vents+o.Vents, f.Holds+o.Holds
	f.HoldAsked += o.HoldAsked
	f.Negatives, f.Grew, f.Voids = f.Negatives+o.Negatives, f.Grew+o.Grew, f.Voids+o.Voids
	f.WaterML, f.Waters, f.Fed, f.Fires, f.ClockSet = f.WaterML+o.WaterML, f.Waters+o.Waters, f.Fed+o.Fed, f.Fires+o.Fires, f.ClockSet+o.ClockSet
	f.RecallsEnded, f.RecallDays = f.RecallsEnded+o.RecallsEnded, f.RecallDays+o.RecallDays
	f.Stocks += o.Stocks
	f.StockOutDays, f.Incidents, f.RecallsOpen = f.StockOutDays+o.StockOutDays, f.Incidents+o.Incidents, f.RecallsOpen+o.RecallsOpen
}
