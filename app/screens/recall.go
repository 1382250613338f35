package screens

import (
	"fmt"
	"image/color"
	"io"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/paper"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// recallsShown are those that are read at once: an office has hundreds.
const recallsShown = 16

// Recalls lists what is called back, open ones first. Those that were ended are read again meanwhile: one that is open all the same comes to the front.
func Recalls(s *Stage) fyne.CanvasObject {
	page, again := s.recallList(recallsShown), false
	s.InPieces(s.Turn+1, func() (more bool) {
		left, open, err := s.Desk.EndedRecall()
		again = again || open
		more = left > 0 && err == nil
		switch {
		case more || !again:
		case s.AtOnce: // the page is not shown yet
			page = s.recallList(recallsShown)
		default:
			s.Again()
		}
		return more
	})
	return page
}

func (s *Stage) recallList(most int) fyne.CanvasObject {
	all, err := s.Desk.RecallIDs()
	if err != nil {
		return Page(s.Say("recall.title"), "", widgets.NewPara(s.Fault(err)))
	}
	body := []fyne.CanvasObject{widgets.NewFlow(240,
		widgets.NewButton(s.Say("recall.new"), widgets.Harm, func() { s.WithPerson(func() { s.newRecall(false) }) }),
		widgets.NewButton(s.Say("recall.drill"), widgets.Plain, func() { s.WithPerson(func() { s.newRecall(true) }) }))}
	for _, id := range all[:min(most, len(all))] {
		r, err := s.Desk.Recall(id)
		if err != nil {
			body = append(body, widgets.NewPara(s.Fault(err)))
			continue
		}
		shape, colour, tag := widgets.Octagon, widgets.Vermilion, s.Say("recall.open")
		switch {
		case r.Closed && s.endedShort(r) != "":
			shape, colour, tag = widgets.Triangle, widgets.Vermilion, s.endedShort(r)
		case r.Closed:
			shape, colour, tag = widgets.Check, widgets.InkSoft, s.Say("recall.closed")
		case r.Drill:
			shape, colour = widgets.Triangle, widgets.InkSoft
		}
		body = append(body, widgets.NewRow(shape, colour, join(tag, s.openedOn(r), s.recallAtSites(r)), s.recallHead(r), s.Say("recall.found", count(int64(r.Found)), count(int64(r.Total))), func() { s.Go(ToRecall, r.ID) }))
	}
	if len(all) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("recall.none"))))
	}
	var page fyne.CanvasObject
	if most < len(all) {
		body = append(body, widgets.NewButton(s.Words.Count("recall.more", len(all)-most), widgets.Plain, func() {
			next := s.recallList(most + 2*recallsShown)
			s.Show(next)
			widgets.SameScroll(page, next)
		}))
	}
	page = Page(s.Say("recall.title"), "", body...)
	return page
}

func (s *Stage) recallHead(r work.Recall) string {
	head := s.Say("recall.head", count(r.Number), s.Say("recall.why."+string(r.Why)))
	if r.Drill {
		head = join(s.Say("recall.is-drill"), head)
	}
	return join(head, r.Reason)
}

func (s *Stage) openedOn(r work.Recall) string {
	if r.At.IsZero() {
		return s.Say("cycle.doubt")
	}
	return s.Words.Day(r.At)
}

// recallAtSites names the other clinics whose loads are called back; where there are none, who called ours back.
func (s *Stage) recallAtSites(r work.Recall) string {
	var names []string
	for _, id := range r.Sites {
		names = append(names, s.siteIfOther(id))
	}
	if theirs := join(names...); theirs != "" {
		return theirs
	}
	return s.siteIfOther(r.Site)
}

// siteIfOther names a site that is not our own.
func (s *Stage) siteIfOther(site model.ID) string {
	if own, err := s.Desk.SiteID(); err != nil || own == site {
		return ""
	}
	return s.siteName(site, "")
}

// Recall is one recall: a line a load, a square a pack, and sums that add up.
func Recall(s *Stage, id model.ID) fyne.CanvasObject {
	r, err := s.Desk.Recall(id)
	if err != nil {
		return Page(s.Say("recall.title"), "", widgets.NewPara(s.Fault(err)))
	}
	lean := s.Say("recall.loads", count(int64(len(r.Loads))))
	if r.Wide {
		lean = s.Say("recall.leans", count(r.After), count(int64(len(r.Loads))))
		if r.After == 0 {
			lean = s.Say("recall.leans-none", count(int64(len(r.Loads))))
		}
	}
	body := []fyne.CanvasObject{widgets.NewPara(join(lean, s.openedOn(r)))}
	if r.Drill {
		body = append(body, widgets.NewNotice(widgets.Amber, s.Say("recall.is-drill"), s.Say("recall.drill.how")))
	}
	body = append(body, s.recallNext(r)...)
	if r.Absent > 0 {
		body = append(body, widgets.NewNotice(widgets.Vermilion, s.Words.Count("recall.absent", r.Absent), s.Say("recall.absent.how")))
	}
	if r.Closed {
		body = append(body, s.endOf(r))
	}
	var lines []fyne.CanvasObject
	for _, l := range r.Loads {
		lines = append(lines, s.recallLine(l))
	}
	body = append(body, widgets.NewSplit(widgets.NewColumn(lines...), widgets.NewColumn(s.sums(r)...), 0.6, 700), widgets.NewFlow(230, s.recallButtons(r)...), widgets.NewSoft(s.Say("caution.chamber")))
	return Page(join(s.recallAtSites(r), s.recallHead(r)), s.Say("recall.found", count(int64(r.Found)), count(int64(r.Total))), body...)
}

// endOf says how a recall ended: with all found and told, or with some that never were.
func (s *Stage) endOf(r work.Recall) fyne.CanvasObject {
	who, when := "", ""
	if !r.EndBy.IsZero() {
		who = s.Desk.Person(r.EndBy.Body().Person).Name
		if at, known, err := s.Desk.Corrected(r.EndBy); err == nil && known {
			when = s.Words.Day(at)
		}
	}
	if short := s.endedShort(r); short != "" {
		return widgets.NewNotice(widgets.Vermilion, short, join(r.Ended, who, when))
	}
	return widgets.NewNotice(widgets.InkSoft, s.Say("recall.closed"), join(r.Ended, s.took(r), who, when))
}

// endedShort is what was left when a recall ended; "": nothing.
func (s *Stage) endedShort(r work.Recall) string {
	switch {
	case r.Untold > 0:
		return s.Words.Count("recall.short.untold", r.Untold, count(int64(r.Short)))
	case r.Short > 0:
		return s.Words.Count("recall.short", r.Short)
	}
	return ""
}

// recallNext says what is to be done next between sites: who opened a recall waits for those who have the shelves.
func (s *Stage) recallNext(r work.Recall) []fyne.CanvasObject {
	own, err := s.Desk.SiteID()
	there := s.recallAtSites(r)
	switch {
	case err != nil || r.Closed || r.Drill || there == "":
		return nil
	case own == r.Site && ((r.Answered && len(r.Sites) < 2) || s.whole(r)): // they have heard of it
		return nil
	case own == r.Site:
		return []fyne.CanvasObject{widgets.NewNotice(widgets.Blue, s.Say("recall.next.there", there), s.Say("recall.next.there.how"))}
	case !r.About(own):
		return nil
	case s.whole(r):
		return []fyne.CanvasObject{widgets.NewNotice(widgets.Blue, s.Say("recall.next.answered", s.siteName(r.Site, "")), "")}
	}
	return []fyne.CanvasObject{widgets.NewNotice(widgets.Blue, s.Say("recall.next.answer"), s.Say("recall.next.answer.how", s.siteName(r.Site, "")))}
}

func (s *Stage) took(r work.Recall) string {
	if r.Took <= 0 {
		return ""
	}
	if r.Drill && r.Sum[work.AtUsed]+r.Sum[work.AtEnded] == r.Total { // a time that measures nothing
		return s.Say("recall.drill.nothing")
	}
	switch {
	case r.Took < 2*time.Hour:
		return s.Say("recall.took-minutes", count(int64(r.Took/time.Minute)))
	case r.Took < 48*time.Hour:
		return s.Say("recall.took-hours", count(int64(r.Took/time.Hour)))
	}
	return s.Say("recall.took-days", count(int64(r.Took/(24*time.Hour))))
}

// recallLine is a load with its squares.
func (s *Stage) recallLine(l work.RecallLoad) fyne.CanvasObject {
	var cells []widgets.Cell
	for _, q := range l.Squares {
		letter, colour := s.squareLook(q)
		cells = append(cells, widgets.Cell{Letter: letter, Color: colour, Hollow: q.At == work.AtLost})
	}
	name := s.Say("knot.cycle", count(l.Number))
	if l.Test {
		name = s.Say("recall.test", count(l.Number))
	}
	if l.InPot {
		name = join(name, s.Say("recall.in-pot"))
	}
	return widgets.NewSquares(name, l.Test, cells, func() { s.Go(ToCycle, l.Cycle) }, func(i int) { s.Go(ToPack, l.Squares[i].Pack) })
}

// squareLook is the letter and colour of where a pack is. Another clinic has its own letter.
func (s *Stage) squareLook(q work.Square) (string, color.Color) {
	letter := s.Say("recall.letter." + string(q.At))
	switch q.At {
	case work.AtUsed:
		return letter, widgets.Ink
	case work.AtShelf:
		return letter, widgets.Blue
	case work.AtIssued:
		return letter, widgets.Amber
	case work.AtElsewhere:
		if name := []rune(s.siteName(q.Site, "")); len(name) > 0 {
			letter = string(name[:1])
		}
		return letter, widgets.Brown
	case work.AtLost:
		return letter, widgets.Vermilion
	}
	return letter, widgets.Pale
}

// sums are the packs by where they are; each opens its list.
func (s *Stage) sums(r work.Recall) (out []fyne.CanvasObject) {
	for _, at := range work.AllWhereabouts {
		n := r.Sum[at]
		if n == 0 {
			continue
		}
		letter, colour := s.squareLook(work.Square{At: at})
		how := s.Say("recall.at." + string(at) + ".how")
		switch {
		case at == work.AtUsed && r.Untold > 0:
			how = s.Words.Count("recall.untold", r.Untold)
			if r.Untold < n {
				how = join(how, s.Say("recall.rest", count(int64(n-r.Untold))))
			}
		case at == work.AtUsed && r.Drill:
			how = s.Say("recall.at.used.drill")
		case r.Drill: // nothing is done with any pack
			how = ""
		case at == work.AtUsed && !r.Listed():
			how = s.Say("recall.nobody")
		case at == work.AtLost && r.Closed:
			how = s.Say("recall.at.lost.closed")
		}
		out = append(out, widgets.NewSum(letter, colour, at == work.AtLost, count(int64(n)), s.Say("recall.at."+string(at)), how, func() { s.recallAt(r.ID, at) }))
	}
	return append(out, widgets.NewStrong(s.Say("recall.adds-up", count(int64(r.Total)))))
}

func (s *Stage) recallSheet(r work.Recall, clinician bool) {
	place, err := s.Desk.Place()
	if !s.Tell(err) {
		return
	}
	site := s.recallAtSites(r)
	if site == "" {
		site = place.Site.Name
	}
	sheet, name := paper.RecallNotice, "recall-%s-%d.pdf"
	if clinician {
		sheet, name = paper.RecallUses, "recall-%s-%d-clinician.pdf"
	}
	s.Write(fmt.Sprintf(name, strings.ToLower(strings.ReplaceAll(site, " ", "-")), r.Number), func(w io.Writer) error {
		return sheet(w, s.Words, paper.A4, site, r, func(id model.ID) string { return strings.TrimSpace(s.siteName(id, "")) }, s.Desk.Clock.Now().Wall)
	})
}
