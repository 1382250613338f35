package work

import (
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Figures of a month, each with one definition, said on the report ("month.def.…" in the catalogue).
//
//	lit        cycles that were begun in the month, by their corrected day
//	aborted    of these, given up before the needle reached the mark: no failed hold
//	held       lit less aborted: those that reached the hold, or should have
//	released   of these, with a release that counts and without a rejection
//	rejected   rejected as a whole, or given up after the mark was reached
//	unknown    neither: not known, waiting, or held; never counted as released
//	rate       released of held
//
// Empty test cycles are counted apart, boiling not at all. Missing is missing: nothing is a zero that nobody told.
type Figures struct {
	Site     model.ID
	Name     string
	Reported bool // what is here of the site reaches to the end of the month, or into it while it lasts
	UpTo     time.Time

	Lit, Aborted, Held, Released, Rejected, Unknown, Trials int
	Packs, Wet                                              int
	Opened                                                  int // packs opened for use
	VentMinutes, HoldMinutes                                float64
	Vents, Holds                                            int
	Negatives, Grew, Voids                                  int
	StockOutDays                                            int
	Incidents                                               int
	RecallsOpen                                             int
}

// Rate is the share of held loads that were released, in per cent; ok is false where none was held.
func (f Figures) Rate() (percent float64, ok bool) {
	if !f.Reported || f.Held == 0 {
		return 0, false
	}
	return 100 * float64(f.Released) / float64(f.Held), true
}

// Month is a month of the district: one line a clinic.
type Month struct {
	From, To time.Time // first day, first day of the next
	Sites    []Figures
	Reported int
}

// MonthOf works out the figures of a month for all clinics that are known here.
func (d *Desk) MonthOf(year int, month time.Month) (m Month, err error) {
	recalls, err := d.Recalls()
	if err != nil {
		return m, err
	}
	return d.monthOf(year, month, recalls)
}

func (d *Desk) monthOf(year int, month time.Month, recalls []Recall) (m Month, err error) {
	m.From = time.Date(year, month, 1, 0, 0, 0, 0, time.UTC)
	m.To = m.From.AddDate(0, 1, 0)
	sites, err := d.Sites()
	if err != nil {
		return m, err
	}
	last, err := d.lastOf()
	if err != nil {
		return m, err
	}
	now, err := d.Date()
	if err != nil {
		return m, err
	}
	for _, s := range sites {
		if s.Office {
			continue
		}
		f, err := d.figures(s, m, last[s.ID], now, recalls)
		if err != nil {
			return m, err
		}
		if f.Reported {
			m.Reported++
		}
		m.Sites = append(m.Sites, f)
	}
	return m, nil
}

// MonthAt are the figures of one clinic's month.
func (d *Desk) MonthAt(site model.ID, year int, month time.Month) (f Figures, err error) {
	m := Month{From: time.Date(year, month, 1, 0, 0, 0, 0, time.UTC)}
	m.To = m.From.AddDate(0, 1, 0)
	last, err := d.lastOf()
	if err != nil {
		return f, err
	}
	now, err := d.Date()
	if err != nil {
		return f, err
	}
	return d.figures(SiteKnown{ID: site}, m, last[site], now, nil)
}

// figures are those of a clinic, where what is here of it reaches that far.
func (d *Desk) figures(s SiteKnown, m Month, upTo, now time.Time, recalls []Recall) (f Figures, err error) {
	f = Figures{Site: s.ID, Name: s.Name, UpTo: upTo}
	needs := m.To
	if now.Before(m.To) { // the month lasts: what has come of it
		needs = m.From
	}
	if f.Reported = !f.UpTo.IsZero() && !f.UpTo.Before(needs); f.Reported {
		err = d.fill(&f, m, recalls)
	}
	return f, err
}

// CyclesAt are the latest cycles of a clinic.
func (d *Desk) CyclesAt(site model.ID, limit int) (out []register.Cycle, err error) {
	ids, err := d.Store.LatestCycles(site, limit)
	if err != nil {
		return nil, d.unread(err)
	}
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

// lastOf is the day of the newest entry of each site, by the clock of its device.
func (d *Desk) lastOf() (map[model.ID]time.Time, error) {
	devices, err := d.Devices()
	out := map[model.ID]time.Time{}
	for _, x := range devices {
		if at := time.UnixMilli(x.Last).UTC(); x.Last > 0 && at.After(out[x.Site]) {
			out[x.Site] = at
		}
	}
	return out, err
}

func (d *Desk) fill(f *Figures, m Month, recalls []Recall) error {
	ids, err := d.cyclesIn(f.Site, m)
	if err != nil {
		return err
	}
	for _, c := range ids {
		if err := d.count(f, c); err != nil {
			return err
		}
	}
	own, _, err := d.houseFor(f.Site)
	if err != nil {
		return err
	}
	in := func(k model.Kind, do func(entry.Verified)) error { return d.toldIn(k, own, m, do) }
	out := map[string]bool{}
	for _, err := range []error{
		in(model.KindStockOut, func(v entry.Verified) { out[dayOf(v)] = true }),
		in(model.KindIncident, func(v entry.Verified) {
			var x model.Incident
			if v.Body().Decode(&x) != nil || x.Code != model.UnsterileUse {
				f.Incidents++
			}
		}),
		in(model.KindPackOpened, func(entry.Verified) { f.Opened++ }),
		d.sporesIn(f, own, m),
	} {
		if err != nil {
			return err
		}
	}
	f.StockOutDays = len(out)
	for _, r := range recalls {
		if r.Site == f.Site && !r.Drill && !r.Closed {
			f.RecallsOpen++
		}
	}
	return nil
}

func dayOf(v entry.Verified) string {
	return time.UnixMilli(v.Body().Wall).UTC().Format(time.DateOnly)
}

// cyclesIn are the cycles of a site that were begun in a month, by their corrected days.
func (d *Desk) cyclesIn(site model.ID, m Month) (out []register.Cycle, err error) {
	ids, err := d.Store.CyclesBegun(site, m.From.UnixMilli(), m.To.UnixMilli())
	if err != nil {
		return nil, d.unread(err)
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return nil, err
		}
		at, known, err := d.Began(c)
		if err != nil {
			return nil, err
		}
		if at = at.UTC(); known && !at.Before(m.From) && at.Before(m.To) {
			out = append(out, c)
		}
	}
	return out, nil
}

// count puts a cycle into the figures.
func (d *Desk) count(f *Figures, c register.Cycle) error {
	if c.Begun.Practice {
		return nil
	}
	if c.Trial() {
		f.Trials++
		return nil
	}
	f.Lit++
	f.Packs += len(c.Begun.Packs)
	for _, bad := range c.BadPacks {
		if bad {
			f.Wet++
		}
	}
	failed := len(c.Rejected) > 0
	switch {
	case c.Aborted() && !c.Closed.ReachedMark:
		f.Aborted++
		return nil
	case c.Aborted():
		failed = true
	}
	f.Held++
	released := false
	if !failed {
		if err := d.read(func(src register.Source) {
			for _, p := range c.Begun.Packs {
				a := register.IsUsable(src, packRef(p.ID))
				released = released || (!a.Release.IsZero() && !a.Override)
			}
		}); err != nil {
			return err
		}
		released = released && len(c.Released) > 0 && !c.ToConfirm && !held(c)
	}
	switch {
	case failed:
		f.Rejected++
	case released:
		f.Released++
	default:
		f.Unknown++
	}
	r, err := d.Judge(c)
	if err != nil {
		return err
	}
	if r.Held > 0 {
		f.HoldMinutes, f.Holds = f.HoldMinutes+r.Held, f.Holds+1
	}
	from, okFrom := c.Step(model.StepVentStart)
	to, okTo := c.Step(model.StepVentEnd)
	if okFrom && okTo && to.At > from.At {
		f.VentMinutes, f.Vents = f.VentMinutes+float64(to.At-from.At)/60000, f.Vents+1
	}
	return nil
}

// toldIn goes through what streams told of a kind in a month, by the clock of the device.
func (d *Desk) toldIn(k model.Kind, by []entry.Stream, m Month, do func(entry.Verified)) error {
	if len(by) == 0 {
		return nil
	}
	for _, stream := range by { // one by one: what came late by another's stick is not in the way
		old := 0
		vs, err := d.Store.LatestWhile(k, func(v entry.Verified) bool {
			if v.Body().Wall < m.From.UnixMilli() {
				old++
			}
			return old < 50 // a clock that stood back for a while hides nothing of what came before
		}, stream)
		if err != nil {
			return d.unread(err)
		}
		for _, v := range vs {
			if w := v.Body().Wall; w >= m.From.UnixMilli() && w < m.To.UnixMilli() {
				do(v)
			}
		}
	}
	return nil
}

// sporesIn counts the spore tests that were read in a month.
func (d *Desk) sporesIn(f *Figures, by []entry.Stream, m Month) error {
	seen := map[model.ID]bool{}
	var ids []model.ID
	err := d.toldIn(model.KindSporeRead, by, m, func(v entry.Verified) {
		for _, r := range v.Body().Refs() {
			if r.Noun == model.NounTest && !seen[r.ID] {
				seen[r.ID] = true
				ids = append(ids, r.ID)
			}
		}
	})
	for _, id := range ids {
		t, e := d.SporeTest(id)
		if isRefusal(e, "no-such-test") {
			continue
		}
		if e != nil {
			return e
		}
		switch t.Said {
		case model.SporePositive:
			f.Grew++
		case model.SporeNegative:
			f.Negatives++
		case model.SporeVoid:
			f.Voids++
		}
	}
	return err
}

// Worst are the gaps of a month that matter most, gravest first: at most n.
func (m Month) Worst(n int) (out []Gap) {
	for _, f := range m.Sites {
		add := func(weight int, code string, args ...string) {
			out = append(out, Gap{f.Name, code, args, weight})
		}
		if !f.Reported {
			add(60, "not-reported")
			continue
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
		if rate, ok := f.Rate(); ok && rate < 90 {
			add(50+int(90-rate)/3, "rate", short(rate))
		}
		if f.Wet > 0 {
			add(30, "wet", short(float64(f.Wet)))
		}
		if f.StockOutDays > 0 {
			add(40, "stock-out", short(float64(f.StockOutDays)))
		}
	}
	slices.SortStableFunc(out, func(a, b Gap) int { return b.weight - a.weight })
	return out[:min(n, len(out))]
}

// Gap is something that is wrong at a clinic; Code and Args are for the catalogue ("gap." + Code).
type Gap struct {
	Site   string
	Code   string
	Args   []string
	weight int
}

// Add adds the figures of another clinic, where it reported.
func (f *Figures) Add(o Figures) {
	if !o.Reported {
		return
	}
	f.Lit, f.Aborted, f.Held, f.Released, f.Rejected = f.Lit+o.Lit, f.Aborted+o.Aborted, f.Held+o.Held, f.Released+o.Released, f.Rejected+o.Rejected
	f.Unknown, f.Trials, f.Packs, f.Wet, f.Opened = f.Unknown+o.Unknown, f.Trials+o.Trials, f.Packs+o.Packs, f.Wet+o.Wet, f.Opened+o.Opened
	f.VentMinutes, f.HoldMinutes, f.Vents, f.Holds = f.VentMinutes+o.VentMinutes, f.HoldMinutes+o.HoldMinutes, f.Vents+o.Vents, f.Holds+o.Holds
	f.Negatives, f.Grew, f.Voids = f.Negatives+o.Negatives, f.Grew+o.Grew, f.Voids+o.Voids
	f.StockOutDays, f.Incidents, f.RecallsOpen = f.StockOutDays+o.StockOutDays, f.Incidents+o.Incidents, f.RecallsOpen+o.RecallsOpen
}
