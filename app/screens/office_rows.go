package screens

import (
	"image/color"
	"strconv"

	"mvuke/app/widgets"
	"mvuke/app/work"
)

// A clinic as the office sees it, in words.

// standingKind is how a clinic stands, in one word, with its sign.
func standingKind(x work.Standing) (kind string, shape widgets.Shape, colour color.Color) {
	switch {
	case x.Bad():
		return "bad", widgets.Octagon, widgets.Vermilion
	case x.Silent():
		return "silent", widgets.Diamond, widgets.InkSoft
	case x.Late():
		return "late", widgets.Square, widgets.Brown
	}
	return "well", widgets.Disc, widgets.Blue
}

// standingRow is a clinic in one line: its newest record, what was released last month, test, gauge, and what is open.
func (s *Stage) standingRow(x work.Standing) *widgets.Row {
	row := widgets.NewRow(widgets.Disc, widgets.Blue, "", "", "", nil)
	month, err := s.Desk.LastMonth(x)
	s.setStanding(row, x, s.releasedOf(month, err))
	return row
}

// setStanding writes a clinic's row, with what is known of its last month.
func (s *Stage) setStanding(row *widgets.Row, x work.Standing, month string) {
	_, shape, colour := standingKind(x)
	said := []string{x.Name}
	if x.Unproven {
		said = append(said, s.Say("devices.unproven"))
	}
	row.Set(shape, colour, s.heightOf(x), join(append(said, s.standingLines(x, month)...)...), "", func() { s.Go(ToSite, x.ID) })
}

// heightOf is where a clinic lies; a dash where that has not come.
func (s *Stage) heightOf(x work.Standing) string {
	if !x.HeightKnown {
		return "– m"
	}
	return count(x.HeightM) + " m"
}

// standingLines is what is known of a clinic, a line each.
func (s *Stage) standingLines(x work.Standing, month string) []string {
	stick := s.Say("glance.nothing")
	if x.StickDays >= 0 {
		stick = s.Say("office.stick", strconv.Itoa(x.StickDays))
	}
	out := []string{stick, month, s.testOf(x), s.gaugeOf(x)}
	for _, more := range []struct {
		n   int
		key string
	}{{x.Recalls, "office.recalls"}, {x.Untold, "office.untold"}, {x.Left, "office.left"}, {x.InDoubt, "office.doubt"}, {x.Stopped, "glance.stopped"}} {
		if more.n > 0 {
			out = append(out, s.Words.Count(more.key, more.n))
		}
	}
	return out
}

func (s *Stage) releasedOf(r work.MonthRate, err error) string {
	if err != nil {
		return s.Fault(err)
	}
	month := s.Say("month." + strconv.Itoa(int(r.Of.Month())))
	if !r.Reported {
		return s.Say("office.released-none", month)
	}
	return s.Say("office.released", month, strconv.Itoa(r.Released), strconv.Itoa(r.Held))
}

func (s *Stage) testOf(x work.Standing) string {
	switch {
	case x.Grew:
		return s.Say("office.grew")
	case x.Out:
		return s.Say("office.pot-out")
	case x.NegativeAgo < 0:
		return s.Say("office.test-none")
	}
	return s.Say("office.test", strconv.Itoa(x.NegativeAgo))
}

func (s *Stage) gaugeOf(x work.Standing) string {
	switch {
	case x.GaugeAgo < 0:
		return s.Say("office.gauge-never")
	case x.GaugeDue:
		return s.Say("office.gauge-due", strconv.Itoa(x.GaugeAgo))
	case x.HighMilli > 0:
		return s.Say("office.gauge.high", s.Say("office.gauge", strconv.Itoa(x.GaugeAgo)), s.Figure(x.HighMilli), x.HighUnit)
	}
	return s.Say("office.gauge", strconv.Itoa(x.GaugeAgo))
}
