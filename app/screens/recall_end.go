package screens

import (
	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// What can be done with a recall as a whole: to end it, to widen it, to free what stands.

func (s *Stage) recallButtons(r work.Recall) (out []fyne.CanvasObject) {
	add := func(key string, look widgets.Look, tap func()) {
		out = append(out, widgets.NewButton(s.Say(key), look, func() { s.WithManager(tap) }))
	}
	own, err := s.Desk.SiteID()
	ours := err == nil && own == r.Site
	if !r.Closed && ours {
		look := widgets.Plain
		if s.whole(r) {
			look = widgets.Do
		}
		add("recall.close", look, func() { s.closeRecall(r) })
	}
	narrow, err := s.Desk.TooNarrow(r) // also of one that is over: Today asks for it
	if ours && !r.Wide && !r.Drill && !r.Pot.IsZero() && (!r.Closed || narrow || err != nil) {
		add("recall.widen", widgets.Harm, func() {
			s.reason("recall.widen.ask", func(why string) { s.done(s.Desk.WidenRecall(r.ID, why)) })
		})
	}
	if n, err := s.Desk.StandingOf(r); err == nil && n > 0 && (ours || r.About(own)) {
		out = append(out, s.freeButton(s.Words.Count("recall.free-standing", n), "recall.free-standing.ask", r, s.Desk.FreeStanding))
	}
	if ours && !r.Drill && r.Why == model.RecallSpore { // also of one that is over: its pot stops them still
		if n, err := s.Desk.Freeable(r.ID); err == nil && (n > 0 || !r.Closed) {
			out = append(out, s.freeButton(s.Words.Count("recall.free", n, count(r.After)), "recall.free.ask", r, s.Desk.FreeBefore))
		}
	}
	out = append(out, widgets.NewButton(s.Say("recall.notice"), widgets.Plain, func() { s.recallSheet(r, false) }))
	if r.Listed() {
		out = append(out, widgets.NewButton(s.Say("recall.clinician"), widgets.Plain, func() { s.recallSheet(r, true) }))
	}
	return append(out, widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToRecalls, model.ID{}) }))
}

// freeButton frees loads of an open recall by name, once somebody says why.
func (s *Stage) freeButton(text, ask string, r work.Recall, free func(model.ID, string) (int, error)) fyne.CanvasObject {
	return widgets.NewButton(text, widgets.Plain, func() {
		s.WithManager(func() {
			s.reason(ask, func(why string) {
				if n, err := free(r.ID, why); s.Tell(err) {
					s.Again()
					s.Message(s.Words.Count("recall.freed", n))
				}
			})
		})
	})
}

// closeRecall asks for a reason only where something is left.
func (s *Stage) closeRecall(r work.Recall) {
	if s.whole(r) {
		widgets.Ask(s.Win, s.Say("recall.close"), s.Say("recall.close.whole", count(int64(r.Total))), s.Say("do.yes"), s.Say("do.no"), func(sure bool) {
			if sure {
				s.done(s.Desk.CloseRecall(r.ID, ""))
			}
		})
		return
	}
	ask := s.Say("recall.close.ask", count(int64(r.Total-r.Found)), count(int64(r.Untold)))
	if r.Untold == 0 {
		ask = s.Say("recall.close.ask.packs", count(int64(r.Total-r.Found)))
	}
	for _, at := range work.AllWhereabouts { // where they are that this leaves
		n := 0
		for _, l := range r.Loads {
			for _, q := range l.Squares {
				if q.At == at && !q.Found && at != work.AtUsed {
					n++
				}
			}
		}
		if n > 0 {
			ask += " " + s.Say("recall.at."+string(at)) + ": " + count(int64(n)) + "."
		}
	}
	s.reasonFor(ask, func(why string) { s.done(s.Desk.CloseRecall(r.ID, why)) })
}

// whole says that every pack of a recall is accounted for, and everybody told who is to be.
func (s *Stage) whole(r work.Recall) bool {
	return r.Found == r.Total && r.Absent == 0 && r.Untold == 0
}
