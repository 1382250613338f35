package screens

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// monthsShown are those of a clinic's page.
const monthsShown = 6

// SitePage is one clinic as the office knows it: its loads, its recalls, and its months. Every figure opens to its rows.
func SitePage(s *Stage, id model.ID) fyne.CanvasObject {
	x, err := s.Desk.StandingAt(id)
	if err != nil {
		return Page(s.Say("office.title"), "", widgets.NewPara(s.Fault(err)))
	}
	if x.ID.IsZero() {
		return Page(s.Say("office.title"), "", widgets.NewPara(s.Say("refuse.no-such-site")))
	}
	body := []fyne.CanvasObject{s.standingRow(x)}
	recalls, err := s.Desk.RecallsAt(id)
	if err != nil {
		return Page(x.Name, "", widgets.NewPara(s.Fault(err)))
	}
	for _, r := range recalls {
		if !r.Closed {
			body = append(body, widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("recall.open"), s.recallHead(r), s.Say("recall.found", count(int64(r.Found)), count(int64(r.Total))), func() { s.Go(ToRecall, r.ID) }))
		}
	}
	body = append(body, s.visitsOf(id, x.Name)...)
	body = append(body, widgets.NewStrong(s.Say("cycles.title")))
	cycles, err := s.Desk.CyclesAt(id, 6)
	if err != nil {
		return Page(x.Name, "", widgets.NewPara(s.Fault(err)))
	}
	for _, c := range cycles {
		state, shape, colour := State(c)
		body = append(body, widgets.NewRow(shape, colour, s.Say("state."+state), s.Say("cycles.row", count(c.Begun.Number), s.when(c)), s.Say("go.cycle"), func() { s.Go(ToCycle, c.State.Ref.ID) }))
	}
	if len(cycles) == 0 {
		body = append(body, widgets.NewCard(widgets.NewPara(s.Say("glance.nothing"))))
	}
	body = append(body, s.monthsOf(id)...)
	body = append(body, widgets.NewButton(s.Say("do.back"), widgets.Quiet, func() { s.Go(ToToday, model.ID{}) }))
	return Page(join(x.Name, s.heightOf(x)), "", body...)
}

// A trend is a figure of a clinic's months that is drawn.
type trend struct {
	key   string
	read  func(work.Figures) (value, whole float64, ok bool) // whole: what a full bar is; 0: the highest of these months. ok is false where the month has none
	asked string                                             // the policy that says how much is asked for
	least bool                                               // and that it is the least; else the most
}

var trends = []trend{
	{key: "rate", read: func(f work.Figures) (float64, float64, bool) { r, ok := f.Rate(); return r, 100, ok }},
	{key: "hold", read: func(f work.Figures) (float64, float64, bool) {
		return f.HoldMinutes / float64(max(1, f.Holds)), 0, f.Reported && f.Holds > 0
	}},
	{key: "vent", asked: model.PolicyVent, least: true, read: func(f work.Figures) (float64, float64, bool) {
		return f.VentMinutes / float64(max(1, f.Vents)), 0, f.Reported && f.Vents > 0
	}},
	{key: "bad", read: func(f work.Figures) (float64, float64, bool) { return float64(f.Wet), 0, f.Reported }},
	{key: "short", read: func(f work.Figures) (float64, float64, bool) { return float64(f.StockOutDays), 0, f.Reported }},
	{key: "negative", asked: model.PolicySporeEvery, read: func(f work.Figures) (float64, float64, bool) {
		return float64(f.NegativeAgo), 0, f.Reported && f.NegativeAgo >= 0
	}},
	{key: "compared", asked: model.PolicyCompareEvery, read: func(f work.Figures) (float64, float64, bool) {
		return float64(f.ComparedAgo), 0, f.Reported && f.ComparedAgo >= 0
	}},
	{key: "stick", read: func(f work.Figures) (float64, float64, bool) { return float64(f.StickAgo), 0, f.StickAgo >= 0 }},
	{key: "closing", read: func(f work.Figures) (float64, float64, bool) {
		return f.RecallDays / float64(max(1, f.RecallsEnded)), 0, f.Reported && f.RecallsEnded > 0
	}},
	{key: "water", read: func(f work.Figures) (float64, float64, bool) {
		return float64(f.WaterML) / 1000 / float64(max(1, f.Waters)), 0, f.Reported && f.Waters > 0
	}},
	{key: "fed", read: func(f work.Figures) (float64, float64, bool) {
		return float64(f.Fed) / float64(max(1, f.Fires)), 0, f.Reported && f.Fires > 0
	}},
	{key: "clock", read: func(f work.Figures) (float64, float64, bool) { return float64(f.ClockSet), 0, f.Reported }},
}

// monthsOf are bars of a clinic's months, the newest last; a month that is not here has none, and is no zero.
func (s *Stage) monthsOf(id model.ID) (out []fyne.CanvasObject) {
	months, err := s.Desk.MonthsAt(id, monthsShown)
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	rules, err := s.Desk.Rules()
	if err != nil {
		return []fyne.CanvasObject{widgets.NewPara(s.Fault(err))}
	}
	for _, t := range trends {
		title, asked := s.Say("trend."+t.key), -1.0
		if t.asked != "" {
			asked = float64(rules.Value(t.asked))
			limit := "trend.most"
			if t.least {
				limit = "trend.least"
			}
			title = join(title, s.Say(limit, count(rules.Value(t.asked))))
		}
		out = append(out, widgets.NewColumn(widgets.NewStrong(title), s.bars(t, months, asked)))
	}
	return []fyne.CanvasObject{widgets.NewFlow(390, out...)}
}

// bars draws one trend; asked below zero: nothing is asked for.
func (s *Stage) bars(t trend, months []work.Figures, asked float64) fyne.CanvasObject {
	most := asked
	for _, f := range months {
		if v, whole, ok := t.read(f); ok {
			most = max(most, v, whole)
		}
	}
	var bars []widgets.TrendBar
	for _, f := range months {
		b := widgets.TrendBar{Name: s.Say("month." + strconv.Itoa(int(f.Month))), Text: "–", Missing: true}
		if v, _, ok := t.read(f); ok {
			b.Text, b.Missing = s.Words.Number(math.Floor(v*10)/10, 1), false
			b.Off = asked >= 0 && ((t.least && v < asked) || (!t.least && v > asked))
			if most > 0 {
				b.Share = v / most
			}
		}
		bars = append(bars, b)
	}
	if most > 0 {
		asked /= most
	}
	return widgets.NewTrend(bars, asked)
}
