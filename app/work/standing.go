package work

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/register"
)

// How each clinic stands, by what has come in.

// Standing is one clinic at a glance. What nobody told is -1, or empty: never zero.
type Standing struct {
	Glance
	HeightM     int64
	HeightKnown bool
	StickDays   int // since its newest entry
	NegativeAgo int // days since its last valid negative test; -1: none known
	Grew        bool
	Out         bool // a pot of it is out of service, or nobody knows which gauge is on it
	GaugeAgo    int  // days since its gauge was compared; -1: never
	GaugeDue    bool
	HighMilli   int64 // what it was found to show too much then, thousandths of HighUnit
	HighUnit    string
	SporeDue    bool
	Recalls     int
	Left        int // of its recalls that are over: packs that nobody set aside
	Untold      int // in its open recalls: packs that were used on somebody, of whom nobody was told
	LastAt      time.Time
}

// Silent says that nothing has come of it for long.
func (s Standing) Silent() bool { return s.StickDays < 0 || s.StickDays > silentDays }

// silentDays after which a clinic's stick is overdue at the office (common practice, no source).
const silentDays = 30

func (d *Desk) standings() (out []Standing, err error) {
	glances, err := d.Glances()
	if err != nil {
		return nil, err
	}
	now, err := d.Date()
	if err != nil {
		return nil, err
	}
	recalls, err := d.recallHeads()
	if err != nil {
		return nil, err
	}
	rules, err := d.Rules()
	if err != nil {
		return nil, err
	}
	for _, g := range glances {
		s := Standing{Glance: g, StickDays: -1, NegativeAgo: -1, GaugeAgo: -1}
		if g.Last > 0 {
			s.LastAt = time.UnixMilli(g.Last)
			s.StickDays = max(0, int(now.Sub(s.LastAt).Hours()/24))
		}
		came, err := d.Store.LastArrival(g.ID, now)
		if err != nil {
			return nil, d.unread(err)
		}
		if !came.IsZero() { // nothing that is here is newer than the stick that brought it, whatever its clock said
			s.StickDays = max(s.StickDays, int(now.Sub(came).Hours()/24))
		}
		for _, r := range recalls {
			if r.About(g.ID) && !r.Drill && !d.over(r) {
				s.Recalls++
				whole, err := d.recallNow(r.ID)
				if err != nil {
					return nil, err
				}
				s.Untold += whole.Untold
			} else if r.About(g.ID) && !r.Drill {
				s.Left += d.standing.ends[r.ID].left
			}
		}
		if err := d.stand(&s, now); err != nil {
			return nil, err
		}
		s.GaugeDue = s.GaugeAgo < 0 || int64(s.GaugeAgo) > rules.Value(model.PolicyCompareEvery)
		s.SporeDue = s.NegativeAgo < 0 || int64(s.NegativeAgo) > rules.Value(model.PolicySporeEvery)
		out = append(out, s)
	}
	slices.SortStableFunc(out, standsBefore)
	return out, nil
}

// standsBefore orders clinics: what harms first; of these, where more waits; then those that were silent longest.
func standsBefore(a, b Standing) int {
	return cmp.Or(cmp.Compare(b.harm(), a.harm()), cmp.Compare(b.StickDays, a.StickDays), strings.Compare(a.Name, b.Name))
}

// harm orders clinics: what may hurt somebody comes before what is late.
func (s Standing) harm() int {
	switch {
	case s.Grew:
		return 5
	case s.Recalls > 0:
		return 4
	case s.Stopped > 0, s.InDoubt > 0, s.Left > 0, s.Out:
		return 3
	case s.Silent():
		return 2
	case s.GaugeDue, s.SporeDue:
		return 1
	}
	return 0
}

// Bad says that something at the clinic may hurt somebody.
func (s Standing) Bad() bool { return s.harm() >= 3 }

// Late says that something is overdue.
func (s Standing) Late() bool { return s.harm() == 1 }

// stand reads altitude, tests, comparisons and loads in doubt.
func (d *Desk) stand(s *Standing, now time.Time) error {
	own, err := d.streamsOf(s.ID)
	if err != nil || len(own) == 0 {
		return err
	}
	ago, err := d.sinceAt(s.ID, own, now, 24*time.Hour)
	if err != nil {
		return err
	}
	s.NegativeAgo, s.GaugeAgo, s.Out = ago.negative, ago.compared, ago.two
	for _, v := range ago.by {
		c, ok := d.comparedNow(v)
		for _, p := range c.Points {
			if ok && c.Gauge != nil && p.ErrorMilli > s.HighMilli {
				s.HighMilli, s.HighUnit = p.ErrorMilli, c.Gauge.Unit
			}
		}
	}
	return d.read(func(src register.Source) {
		site, _, known := register.Described[model.Site](register.Of(src, model.Ref{Noun: model.NounSite, ID: s.ID}), model.KindSite)
		s.HeightM, s.HeightKnown = site.HeightM, known
		for _, v := range ago.pots {
			for _, ref := range v.Body().Refs() {
				for _, h := range register.Of(src, ref).Holds {
					s.Out = s.Out || h.Open()
					s.Grew = s.Grew || (h.Open() && h.Code == register.HoldSpore)
				}
			}
		}
	})
}
