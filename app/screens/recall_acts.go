package screens

import (
	"slices"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// recallAt lists the packs of a recall that are at one place, and says what came of those that are chosen: nobody answers for a pack by a tap that meant another.
func (s *Stage) recallAt(id model.ID, at work.Whereabouts) {
	r, err := s.Desk.Recall(id)
	if !s.Tell(err) {
		return
	}
	var list []work.Square
	for _, l := range r.Loads {
		for _, q := range l.Squares {
			if q.At == at {
				list = append(list, q)
			}
		}
	}
	if len(list) == 0 {
		s.Go(ToRecall, id)
		return
	}
	var chosen []model.ID
	buttons := s.recallActs(r, at, func() []model.ID { return slices.Clone(chosen) })
	var shows []func()
	var rows []fyne.CanvasObject
	for _, q := range list {
		said := join(q.Label, q.Set, q.Use, q.To, s.siteName(q.Site, ""))
		look := func() (widgets.Shape, string) {
			switch {
			case slices.Contains(chosen, q.Pack):
				return widgets.Check, s.Say("recall.chosen")
			case q.Told:
				return widgets.Check, s.Say("recall.told")
			case r.Drill && at == work.AtUsed:
				return widgets.Disc, ""
			case at == work.AtUsed && !q.Owed:
				return widgets.Disc, s.Say("recall.not-listed")
			case q.Found && at != work.AtUsed:
				return widgets.Check, s.Say("recall.seen")
			}
			if len(buttons) == 0 { // nothing can be said here: it is no box to tick
				return widgets.Disc, ""
			}
			return widgets.Square, ""
		}
		var show func()
		tap := func() {
			if len(buttons) == 0 {
				return
			}
			if i := slices.Index(chosen, q.Pack); i >= 0 {
				chosen = slices.Delete(chosen, i, i+1)
			} else {
				chosen = append(chosen, q.Pack)
			}
			show()
		}
		shape, tag := look()
		row := widgets.NewRow(shape, widgets.Blue, tag, said, "", tap)
		show = func() {
			shape, tag := look()
			row.Set(shape, widgets.Blue, tag, said, "", tap)
		}
		rows, shows = append(rows, row), append(shows, show)
	}
	back := widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToRecall, id) })
	if len(buttons) > 0 {
		var open []model.ID // that still wait for an answer; where none does, all
		for _, q := range list {
			if q.Owed || (at != work.AtUsed && !q.Found) {
				open = append(open, q.Pack)
			}
		}
		if len(open) == 0 {
			for _, q := range list {
				open = append(open, q.Pack)
			}
		}
		buttons = append(buttons, widgets.NewButton(s.Words.Count("recall.choose-all", len(open)), widgets.Plain, func() {
			chosen = slices.Clone(open)
			for _, show := range shows {
				show()
			}
		}))
	}
	buttons = append(buttons, back)
	do := s.Say("recall.at." + string(at) + ".do")
	if at == work.AtUsed && !r.Listed() {
		do = s.Say("recall.nobody")
	}
	drill := ""
	if r.Drill {
		drill, do = s.Say("recall.is-drill"), s.Say("recall.drill.how")
	}
	s.Show(Page(join(drill, s.recallAtSites(r), s.Say("recall.head", count(r.Number), s.Say("recall.at."+string(at))), count(int64(len(list)))), "",
		append([]fyne.CanvasObject{widgets.NewPara(do), widgets.NewFlow(230, buttons...)}, rows...)...))
}

// recallActs are what can come of packs that are at a place.
func (s *Stage) recallActs(r work.Recall, at work.Whereabouts, picked func() []model.ID) (out []fyne.CanvasObject) {
	add := func(key string, look widgets.Look, do func([]model.ID)) {
		out = append(out, widgets.NewButton(s.Say(key), look, func() {
			if len(picked()) == 0 {
				s.Message(s.Say("recall.choose"))
				return
			}
			s.WithPerson(func() { do(picked()) })
		}))
	}
	again := func(err error) {
		if s.Tell(err) {
			s.Note("act")
			s.recallAt(r.ID, at)
		}
	}
	tell := func(what model.Sought) func([]model.ID) {
		return func(ids []model.ID) { again(s.Desk.TellRecall(r.ID, what, ids, "")) }
	}
	if own, err := s.Desk.SiteID(); (r.Closed && r.Drill) || err != nil || !r.About(own) { // who opened it, and who has the shelves; also what turns up after it has ended is set aside
		return nil
	}
	switch at {
	case work.AtUsed:
		if r.Drill { // nothing is wrong with any pack
			break
		}
		add("recall.tell-clinician", widgets.Do, func(ids []model.ID) {
			s.reason("recall.tell-clinician.ask", func(whom string) { again(s.Desk.TellRecall(r.ID, model.SoughtClinician, ids, whom)) })
		})
	case work.AtShelf, work.AtIssued, work.AtLost:
		if r.Drill {
			add("recall.seen.do", widgets.Do, tell(model.SoughtSeen))
			break
		}
		add("recall.aside.do", widgets.Do, func(ids []model.ID) {
			for _, id := range ids {
				if err := s.Desk.SetAside(id); err != nil {
					again(err)
					return
				}
			}
			again(nil)
		})
		if at != work.AtLost {
			add("recall.lost.do", widgets.Plain, tell(model.SoughtLost))
		}
		if at != work.AtShelf {
			add("recall.opened.do", widgets.Plain, func(ids []model.ID) {
				if len(ids) != 1 {
					s.Message(s.Say("recall.opened.one"))
					return
				}
				if p, err := s.Desk.Pack(ids[0]); s.Tell(err) {
					s.use(p, true)
				}
			})
		}
	case work.AtElsewhere:
		add("recall.seen.do", widgets.Plain, tell(model.SoughtSeen))
	}
	return out
}

// newRecall asks which load, and why; or begins a drill on the last released load.
func (s *Stage) newRecall(drill bool) {
	ids, err := s.Desk.LatestCycles(8)
	if !s.Tell(err) {
		return
	}
	var names []string
	var loads []model.ID
	for _, id := range ids {
		c, err := s.Desk.Cycle(id)
		if !s.Tell(err) {
			return
		}
		if c.Closed != nil && !c.Trial() {
			names, loads = append(names, s.Say("knot.cycle", count(c.Begun.Number))), append(loads, id)
		}
	}
	if len(loads) == 0 {
		s.Message(s.Say("recall.no-load"))
		return
	}
	var shut func()
	load := widgets.NewChoice(names, 0, nil)
	wide := widgets.NewChoice([]string{s.Say("recall.this-load"), s.Say("recall.all-since")}, 0, nil)
	why := widgets.NewField(s.Say("recall.reason"), "", nil)
	begin, look := s.Say("recall.new"), widgets.Harm
	if drill {
		begin, look = s.Say("recall.drill.begin"), widgets.Do
	}
	save := widgets.NewButton(begin, look, func() {
		f := work.RecallForm{Why: model.RecallHand, Loads: []model.ID{loads[max(0, load.Selected)]}, Wide: wide.Selected == 1, Drill: drill, Reason: why.Text()}
		id, err := s.Desk.OpenRecall(f)
		if err != nil {
			why.SetError(s.Fault(err))
			return
		}
		shut()
		s.Go(ToRecall, id)
	})
	title := s.Say("recall.new.ask")
	if drill {
		title = s.Say("recall.drill.ask")
	}
	cancel := widgets.NewButton(s.Say("do.cancel"), widgets.Quiet, func() { shut() })
	shut = s.Modal(widgets.NewColumn(widgets.NewStrong(title), load, wide, why, widgets.NewFlow(180, cancel, save)))
}

// recallLoad calls one load back: for the strip where one failed, else by the person's word.
func (s *Stage) recallLoad(c register.Cycle) {
	f := work.RecallForm{Why: model.RecallHand, Cause: c.State.Ref.ID, Loads: []model.ID{c.State.Ref.ID}}
	for _, h := range c.State.Holds {
		switch {
		case h.Code == register.HoldStrip && h.Open():
			f.Why = model.RecallStrip
		case h.Code == register.HoldWetLoad && h.Open():
			f.Why = model.RecallWet
		}
	}
	s.reasonFor(join(s.siteIfOther(s.Desk.SiteOfCycle(c)), s.Say("recall.load.ask", count(c.Begun.Number))), func(why string) {
		f.Reason = why
		id, err := s.Desk.OpenRecall(f)
		if s.Tell(err) {
			s.Go(ToRecall, id)
		}
	})
}
