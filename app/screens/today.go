package screens

import (
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// rowsBeforeActs is how many of the gravest lines stand above what is done every day, so that this is in sight on a small screen however many lines there are.
const rowsBeforeActs = 5

// Today lists what waits, in order of harm. Each line opens the place where it is settled.
func Today(s *Stage) fyne.CanvasObject {
	place, err := s.Desk.Place()
	if err != nil {
		return Page("", "", widgets.NewPara(s.Fault(err)))
	}
	lines, err := s.Desk.Today()
	if err != nil {
		return Page("", "", widgets.NewPara(s.Fault(err)))
	}
	title := s.Say("today.title", place.Site.Name, s.Words.Day(s.Desk.Clock.Now().Wall))
	if office, err := s.Desk.Office(); err == nil && office {
		return s.officeToday(title, lines)
	}
	start := widgets.Do
	if len(place.Pots) > 0 && !slices.ContainsFunc(place.Pots, work.Pot.MayLight) { // what comes first is on a line above
		start = widgets.Plain
	}
	acts := widgets.NewFlow(260,
		widgets.NewButton(s.Say("today.start"), start, func() { s.WithPerson(func() { s.Go(ToLoad, model.ID{}) }) }),
		widgets.NewButton(s.Say("today.slip"), widgets.Plain, func() { s.WithPerson(func() { s.Go(ToSlip, model.ID{}) }) }),
		widgets.NewButton(s.Say("stick.title"), widgets.Plain, func() { s.Go(ToStick, model.ID{}) }))
	var rows []fyne.CanvasObject
	for _, l := range lines {
		rows = append(rows, todayRow(s, l))
	}
	if len(rows) == 0 {
		rows = append(rows, widgets.NewCard(widgets.NewPara(s.Say("today.nothing"))))
	}
	return Page(title, "", slices.Insert(rows, min(len(rows), rowsBeforeActs), fyne.CanvasObject(acts))...)
}

func todayRow(s *Stage, l work.Line) fyne.CanvasObject {
	args := l.Args
	if strings.HasPrefix(l.Code, "stock-") && len(args) > 0 { // a code, to be put into words
		args = append([]string{s.Say("stock." + args[0])}, args[1:]...)
	}
	switch {
	case strings.HasPrefix(l.Code, "care-"):
		args = append([]string{s.Say("care." + args[0])}, args[1:]...)
	case l.Code == "heights":
		args = append(args[:3:3], s.Say("setup.how."+args[3]))
	}
	tap := func() { s.Go(l.Go, l.Cycle) }
	if l.Go == "" {
		tap = func() {}
	}
	if l.Go == "restored" {
		tap = func() {
			s.WithPerson(func() { s.reason("today.restored.ask", func(why string) { s.done(s.Desk.AnswerRestored(why)) }) })
		}
	}
	if l.Go == "growth" {
		tap = func() { s.WithPerson(func() { s.done(s.Desk.RecallGrowth(l.Cycle)) }) }
	}
	if l.Go == "action" {
		if at, err := time.Parse(time.DateOnly, args[1]); err == nil {
			args = []string{args[0], s.Words.Day(at)}
		}
		tap = func() {
			s.WithPerson(func() { s.reason("visit.done.ask", func(how string) { s.done(s.Desk.DoAction(l.Cycle, how)) }) })
		}
	}
	code := l.Code
	if code == "recall" && args[3] != "0" {
		code = "recall-untold"
	}
	text, action := s.Say("today."+code, args...), s.Say("go."+l.Go)
	if l.Code == "recall" && len(args) > 4 { // at the office: of which clinics
		text = join(args[4], text)
	}
	if code == "two-gauges" {
		action = s.Say("go.gauge")
	}
	switch l.Urgency {
	case work.Stop:
		return widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("tag.stop"), text, action, tap)
	case work.Now:
		return widgets.NewRow(widgets.Disc, widgets.Blue, s.Say("tag.now"), text, action, tap)
	case work.Soon:
		return widgets.NewRow(widgets.Square, widgets.Green, s.Say("tag.soon"), text, action, tap)
	}
	return widgets.NewRow(widgets.Triangle, widgets.InkSoft, s.Say("tag.look"), text, action, tap)
}
