package work

import (
	"slices"

	"mvuke/model"
)

// What a stick stopped: asked of Today, and at the office of each clinic, before it is taken in and after.

// Stops says that something on the stick stops packs or loads, or speaks of what is stopped, or that nobody knows. Stops and words on recalls count also where all stands as it did before in lines and
// numbers: one may have gone while another came.
func (in BroughtIn) Stops() bool {
	return in.Unsure || len(in.Stopped)+len(in.Worse) > 0 || slices.ContainsFunc(in.Files, func(b Brought) bool {
		return b.Kinds[model.KindHold]+b.Kinds[model.KindReject]+b.Came("recalls") > 0
	})
}

// stops is all that is stopped.
type stops struct {
	lines []Line
	sites map[model.ID]Standing // at the office
}

func (d *Desk) stops() (s stops, err error) {
	lines, err := d.Today()
	if err != nil {
		return s, err
	}
	for _, l := range lines {
		if l.Urgency == Stop {
			s.lines = append(s.lines, l)
		}
	}
	office, err := d.Office()
	if err != nil || !office {
		return s, err
	}
	all, err := d.StandingsSoon()
	s.sites = map[model.ID]Standing{}
	for _, x := range all {
		s.sites[x.ID] = x
	}
	return s, err
}

// since is what is stopped that was not stopped before, or of which something else is said: how many packs of a recall are still out, say.
func (s stops) since(before stops) (lines []Line, worse []Standing) {
	for _, l := range s.lines {
		if !slices.ContainsFunc(before.lines, l.same) {
			lines = append(lines, l)
		}
	}
	for id, x := range s.sites {
		if y := before.sites[id]; x.Stopped > y.Stopped || x.InDoubt > y.InDoubt || x.Recalls > y.Recalls || (x.Grew && !y.Grew) {
			worse = append(worse, x)
		}
	}
	slices.SortFunc(worse, standsBefore)
	return lines, worse
}

func (l Line) same(o Line) bool {
	return l.Code == o.Code && l.Go == o.Go && l.Cycle == o.Cycle && slices.Equal(l.Args, o.Args)
}
