package work

import (
	"slices"
	"strconv"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// What a stick stopped: asked of Today, and at the office of each clinic, before it is taken in and after.

// Stops says that something on the stick stops packs or loads, or speaks of what is stopped, or that nobody knows. Stops and words on recalls count also where all stands as it did before in lines and
// numbers: one may have gone while another came.
func (in BroughtIn) Stops() bool {
	return in.Unsure || len(in.Stopped)+len(in.Worse) > 0 || slices.ContainsFunc(in.Files, func(b Brought) bool {
		return b.Kinds[model.KindHold]+b.Kinds[model.KindReject]+b.Came("recalls") > 0
	})
}

// OnlyWords says that it speaks of what was known here to be stopped, and stops nothing more.
func (in BroughtIn) OnlyWords() bool {
	return in.Stops() && !in.Unsure && len(in.Stopped)+len(in.Worse) == 0
}

// Worse is a clinic of which more is stopped since.
type Worse struct {
	Standing
	Loads []model.ID // that are stopped, or in doubt, and were not
}

// stops is all that is stopped.
type stops struct {
	lines []Line
	own   model.ID
	loads map[model.ID]store.StoppedLoad
	sites map[model.ID]Standing // at the office

	recalls map[model.ID][]model.ID // at the office: the clinics of each that is open
}

func (d *Desk) stops() (s stops, err error) { return d.stopsOf(nil) }

// stopsOf is that after a stick has brought something of some clinics: at the office their ended recalls are read again, for one may be open by what came.
func (d *Desk) stopsOf(from map[model.ID]bool) (s stops, err error) {
	lines, err := d.Today()
	if err != nil {
		return s, err
	}
	for _, l := range lines {
		if l.Urgency == Stop {
			s.lines = append(s.lines, l)
		}
	}
	if s.own, err = d.SiteID(); err != nil {
		return s, err
	}
	if s.loads, err = d.Store.StoppedLoads(); err != nil {
		return s, d.unread(err)
	}
	office, err := d.Office()
	if err != nil || !office {
		return s, err
	}
	for site := range from {
		if _, err := d.StandingAt(site); err != nil {
			return s, err
		}
	}
	heads, err := d.recallHeads()
	if err != nil {
		return s, err
	}
	s.recalls = map[model.ID][]model.ID{}
	for _, h := range heads {
		if !h.Drill && !d.over(h) {
			s.recalls[h.ID] = append([]model.ID{h.Site}, h.Sites...)
		}
	}
	all, err := d.StandingsSoon()
	s.sites = map[model.ID]Standing{}
	for _, x := range all {
		s.sites[x.ID] = x
	}
	return s, err
}

// since is what is stopped that was not stopped before, or of which something else is said: how many packs of a recall are still out, say. Where a line is as before, and is about other loads, it is said again.
func (s stops) since(before stops) (lines []Line, worse []Worse) {
	news := map[model.ID][]model.ID{}
	doubt := false // of our own
	for id, x := range s.loads {
		if y, was := before.loads[id]; !was || (x.Doubt && !y.Doubt) {
			news[x.Site] = append(news[x.Site], id)
			doubt = doubt || (x.Doubt && x.Site == s.own)
		}
	}
	for _, l := range s.lines {
		if !slices.ContainsFunc(before.lines, l.same) || (doubt && l.Code == "in-doubt") {
			lines = append(lines, l)
		}
	}
	called := map[model.ID]bool{}
	for id, sites := range s.recalls {
		for _, site := range sites {
			called[site] = called[site] || !slices.Contains(before.recalls[id], site)
		}
	}
	for id, x := range s.sites {
		if y := before.sites[id]; len(news[id]) > 0 || called[id] || (x.Grew && !y.Grew) || (x.Out && !y.Out) {
			worse = append(worse, Worse{x, news[id]})
		}
	}
	slices.SortFunc(worse, func(a, b Worse) int { return standsBefore(a.Standing, b.Standing) })
	return lines, worse
}

// growthsIn are the loads in which spores grew, or may have, by some entries.
func growthsIn(vs []entry.Verified) (out []model.ID) {
	for _, v := range vs {
		var r model.SporeRead
		if v.Body().Kind != model.KindSporeRead || (v.Body().Decode(&r) == nil && !r.Grew) {
			continue
		}
		for _, ref := range v.Body().Refs() {
			if ref.Noun == model.NounCycle && !slices.Contains(out, ref.ID) {
				out = append(out, ref.ID)
			}
		}
	}
	return out
}

// nameGrowths names each load in which spores grew by what the stick brought and that no line names: where its pot is stopped already, nothing else is new. A clinic hears of its own, the office of all.
func (d *Desk) nameGrowths(in *BroughtIn) error {
	if len(in.grew) == 0 {
		return nil
	}
	names, err := d.SiteNames()
	if err != nil {
		return err
	}
	own, err := d.SiteID()
	if err != nil {
		return err
	}
	office, err := d.Office()
	if err != nil {
		return err
	}
	for _, id := range in.grew {
		if slices.ContainsFunc(in.Stopped, func(l Line) bool { return l.Cycle == id }) || slices.ContainsFunc(in.Worse, func(w Worse) bool { return slices.Contains(w.Loads, id) }) {
			continue
		}
		number, at := "–", "–" // its load may not be here yet
		if c, err := d.Cycle(id); err == nil {
			site := d.SiteOfCycle(c)
			if site != own && !office {
				continue
			}
			number, at = strconv.FormatInt(c.Begun.Number, 10), names[site]
		}
		in.Stopped = append(in.Stopped, Line{Urgency: Stop, Code: "grew", Args: []string{number, at}, Go: "cycle", Cycle: id})
	}
	return nil
}

func (l Line) same(o Line) bool {
	return l.Code == o.Code && l.Go == o.Go && l.Cycle == o.Cycle && slices.Equal(l.Args, o.Args)
}
