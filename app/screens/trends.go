package screens

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// How a clinic's figures went over its last months.

// A trend is a figure of a clinic's months that is drawn.
type trend struct {
	key   string
	read  func(work.Figures) (value, whole float64, ok bool)   // whole: what a full bar is; 0: the highest of these months. ok is false where the month has none
	asked func(model.Policies, []work.Figures) (float64, bool) // how much is asked for; nil: nothing is
	least bool                                                 // and that it is the least; else the most
	off   func(work.Figures) bool                              // it was not as asked; nil: by the figure itself
}

var trends = []trend{
	{key: "rate", least: true, asked: func(model.Policies, []work.Figures) (float64, bool) { return work.LeastRate, true }, read: func(f work.Figures) (float64, float64, bool) { r, ok := f.Rate(); return r, 100, ok }},
	{key: "hold", least: true, asked: holdAsked, off: func(f work.Figures) bool { return f.HoldMinutes < f.HoldAsked }, read: func(f work.Figures) (float64, float64, bool) {
		return f.HoldMinutes / float64(max(1, f.Holds)), 0, f.Reported && f.Holds > 0
	}},
	{key: "vent", asked: byPolicy(model.PolicyVent), least: true, read: func(f work.Figures) (float64, float64, bool) {
		return f.VentMinutes / float64(max(1, f.Vents)), 0, f.Reported && f.Vents > 0
	}},
	{key: "bad", read: func(f work.Figures) (float64, float64, bool) { return float64(f.Wet), 0, f.Reported }},
	{key: "short", read: func(f work.Figures) (float64, float64, bool) { n, ok := f.Short(); return float64(n), 0, ok }},
	{key: "negative", asked: byPolicy(model.PolicySporeEvery), read: func(f work.Figures) (float64, float64, bool) {
		return float64(f.NegativeAgo), 0, f.Reported && f.NegativeAgo >= 0
	}},
	{key: "compared", asked: byPolicy(model.PolicyCompareEvery), read: func(f work.Figures) (float64, float64, bool) {
		return float64(f.ComparedAgo), 0, f.Reported && f.ComparedAgo >= 0
	}},
	{key: "grew", asked: none, read: func(f work.Figures) (float64, float64, bool) { return float64(f.Grew), 0, f.Reported }},
	{key: "open", asked: none, read: func(f work.Figures) (float64, float64, bool) { return float64(f.RecallsOpen), 0, f.Reported }},
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

func byPolicy(p string) func(model.Policies, []work.Figures) (float64, bool) {
	return func(rules model.Policies, _ []work.Figures) (float64, bool) { return float64(rules.Value(p)), true }
}

// holdAsked is what the plans of these months' cycles asked for, on average: wrapped loads are held longer than unwrapped ones.
func holdAsked(_ model.Policies, months []work.Figures) (float64, bool) {
	asked, n := 0.0, 0
	for _, f := range months {
		asked, n = asked+f.HoldAsked, n+f.Holds
	}
	return asked / float64(max(1, n)), n > 0
}

// none is asked for: each is one too many.
func none(model.Policies, []work.Figures) (float64, bool) { return 0, true }

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
		if t.asked != nil {
			if v, ok := t.asked(rules, months); ok {
				limit := "trend.most"
				if t.least {
					limit = "trend.least"
				}
				if v == 0 {
					limit = "trend.none"
				}
				asked, title = v, join(title, s.Say(limit, s.Words.Number(v, 0)))
			}
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
			if t.off != nil {
				b.Off = t.off(f)
			}
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
