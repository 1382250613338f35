package screens

import (
	"strconv"
	"strings"
	"time"

	"mvuke/app/widgets"
)

// AskDate asks what day it is, when the device's clock cannot be right. "I do not know" is an
// answer; work goes on with doubtful dates.
func (s *Stage) AskDate(then func()) {
	var shut func()
	now := s.Desk.Clock.Now().Wall
	day := widgets.NewField(s.Say("clock.day"), "1–31", nil)
	month := widgets.NewField(s.Say("clock.month"), "1–12", nil)
	year := widgets.NewField(s.Say("clock.year"), "2026", nil)
	widgets.Chain(day, month, year)
	finish := func(t time.Time) {
		if err := s.Desk.AnswerDate(t); err != nil {
			year.SetError(s.Fault(err))
			return
		}
		shut()
		then()
	}
	save := widgets.NewButton(s.Say("do.save"), widgets.Do, func() {
		t, ok := date(day.Text(), month.Text(), year.Text(), now)
		if !ok {
			year.SetError(s.Say("clock.bad"))
			return
		}
		finish(t)
	})
	unknown := widgets.NewButton(s.Say("clock.unknown"), widgets.Plain, func() { finish(time.Time{}) })
	last := s.Desk.LastSure()
	text := s.Say("clock.text", s.Words.Day(now), s.Words.Day(last))
	shut = s.Modal(widgets.NewColumn(widgets.NewBig(s.Say("clock.title"), 22, widgets.Ink, true), widgets.NewPara(text),
		widgets.NewFlow(140, day, month, year), widgets.NewFlow(200, unknown, save)))
}

// date reads day, month and year; the time of day is kept from the clock.
func date(d, m, y string, now time.Time) (time.Time, bool) {
	var n [3]int
	for i, s := range []string{d, m, y} {
		v, err := strconv.Atoi(strings.TrimSpace(s))
		if err != nil {
			return time.Time{}, false
		}
		n[i] = v
	}
	t := time.Date(n[2], time.Month(n[1]), n[0], now.Hour(), now.Minute(), now.Second(), 0, now.Location())
	return t, t.Day() == n[0] && int(t.Month()) == n[1] && n[2] > 2000 && n[2] < 2100
}
