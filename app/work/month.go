package work

import (
	"time"

	"mvuke/model"
	"mvuke/model/entry"
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
	Month    time.Month // of a list of months

	Lit, Aborted, Held, Released, Rejected, Unknown, Trials int
	Packs, Wet                                              int
	Opened                                                  int // packs opened for use
	VentMinutes, HoldMinutes                                float64
	HoldAsked                                               float64 // minutes that the plans of the holds asked for, summed
	Vents, Holds                                            int
	Negatives, Grew, Voids                                  int
	Stocks                                                  int // clinics that ever told of their stock by then; where none did, the days short are not known
	StockOutDays                                            int
	Incidents                                               int
	RecallsOpen                                             int
	Behind                                                  int // of several devices of the clinic, those of which what is here does not reach to the end of the month
	Undated                                                 int // loads with packs of which nobody knows the day: they are in no month
	InDoubt                                                 int // loads that wait for somebody to look back on them, today

	WaterML      int64 // poured into the cycles of which that is written down
	Waters       int   // how many those are
	Fed, Fires   int   // times that wood was put on, and the fires of which that is known
	ClockSet     int   // times that somebody had to say what the date is
	RecallsEnded int
	RecallDays   float64 // from opening to the last word, of those that ended in the month, summed
	NegativeAgo  int     // days from the last valid negative test to the end of the month, or to today while it lasts; -1: none is known
	ComparedAgo  int     // the same of the last comparison of a gauge
	StickAgo     int     // the same of the last stick that brought something of it here
}

// LeastRate is the share of held loads that should be released, per cent; below it a month has a gap (common practice, no source).
const LeastRate = 90

// Rate is the share of held loads that were released, in per cent; ok is false where none was held.
func (f Figures) Rate() (percent float64, ok bool) {
	if !f.Reported || f.Held == 0 {
		return 0, false
	}
	return 100 * float64(f.Released) / float64(f.Held), true
}

// Short is on how many days a consumable was missing; ok is false where nobody tells of the stock.
func (f Figures) Short() (days int, ok bool) { return f.StockOutDays, f.Reported && f.Stocks > 0 }

// Month is a month of the district: one line a clinic.
type Month struct {
	From, To time.Time // first day, first day of the next
	Sites    []Figures
	Reported int
	Lasts    bool // it is not over
}

// monthOf is an empty month.
func monthOf(year int, month time.Month) (m Month) {
	m.From = time.Date(year, month, 1, 0, 0, 0, 0, time.UTC)
	m.To = m.From.AddDate(0, 1, 0)
	return m
}

// MonthOf works out the figures of a month: at the office of every clinic, at a clinic its own.
func (d *Desk) MonthOf(year int, month time.Month) (m Month, err error) {
	recalls, err := d.monthRecalls(func(recallHead) bool { return true })
	if err != nil {
		return m, err
	}
	m = monthOf(year, month)
	sites, err := d.Sites()
	if err != nil {
		return m, err
	}
	here, err := d.reach()
	if err != nil {
		return m, err
	}
	now, err := d.Date()
	if err != nil {
		return m, err
	}
	office, err := d.Office()
	if err != nil {
		return m, err
	}
	m.Lasts = now.Before(m.To)
	for _, s := range sites {
		if s.Office || (!office && !s.Own) { // a clinic reports of itself: of others it does not hear all
			continue
		}
		f, err := d.figures(s, m, here[s.ID], now, recalls)
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

// MonthsAt are the latest months of one clinic, the oldest first; the last of them is not over.
func (d *Desk) MonthsAt(site model.ID, n int) (out []Figures, err error) {
	here, err := d.reach()
	if err != nil {
		return nil, err
	}
	now, err := d.Date()
	if err != nil {
		return nil, err
	}
	recalls, err := d.monthRecalls(func(h recallHead) bool { return h.About(site) })
	if err != nil {
		return nil, err
	}
	for i := range n {
		m := monthOf(now.Year(), now.Month()+time.Month(i+1-n))
		f, err := d.figures(SiteKnown{ID: site}, m, here[site], now, recalls)
		if err != nil {
			return nil, err
		}
		f.Month = m.From.Month()
		out = append(out, f)
	}
	return out, nil
}

// figures are those of a clinic, where it reported.
func (d *Desk) figures(s SiteKnown, m Month, here reach, now time.Time, recalls []Recall) (f Figures, err error) {
	f = Figures{Site: s.ID, Name: s.Name, UpTo: here.upTo, NegativeAgo: -1, ComparedAgo: -1, StickAgo: -1}
	end, slack := m.To, time.Duration(0)
	if now.Before(end) { // it lasts
		end, slack = now, 24*time.Hour
	}
	came, err := d.Store.LastArrival(s.ID, end)
	if err != nil {
		return f, d.unread(err)
	}
	if !came.IsZero() { // also of a month of which nothing came: that is what it tells
		f.StickAgo = int(end.Add(-time.Millisecond).Sub(came) / (24 * time.Hour)) // whole days: came is the beginning of one
	}
	if f.Reported = m.reported(here.from, here.upTo, now); f.Reported {
		f.Behind = here.behind(m, now)
		if err := d.fill(&f, m, recalls); err != nil {
			return f, err
		}
		own, err := d.streamsOf(s.ID)
		if err != nil {
			return f, err
		}
		ago, err := d.sinceAt(s.ID, own, end, slack)
		f.NegativeAgo, f.ComparedAgo = ago.negative, ago.compared
		return f, err
	}
	return f, nil
}

// firstDay is when the oldest entry of some devices was written, by their clocks; zero: there is none.
func (d *Desk) firstDay(streams ...entry.Stream) (first time.Time, err error) {
	for _, x := range streams {
		v, ok, err := d.Store.FirstOf(x)
		if err != nil {
			return first, d.unread(err)
		}
		if !ok {
			continue
		}
		if at := time.UnixMilli(v.Body().Wall).UTC(); first.IsZero() || at.Before(first) {
			first = at
		}
	}
	return first, nil
}
