package learn

import (
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/widgets"
)

// Report is the lesson's end: what the load was worth, what was done well, what would have hurt somebody.
func Report(s *screens.Stage, r practice.Report, again, next, back func()) fyne.CanvasObject {
	title, colour := s.Say("report.free"), widgets.Blue
	if r.Lesson.Code != "" {
		title, colour = s.Say("report.not-passed"), widgets.Amber
		if r.Passed {
			title, colour = s.Say("report.passed"), widgets.Green
		}
	}
	left := []fyne.CanvasObject{widgets.NewNotice(colour, title, aim(s, r.Lesson)), worth(s, r)}
	for _, m := range r.Mishaps {
		left = append(left, widgets.NewNotice(widgets.Amber, s.Say("report.mishap", s.Say("mishap."+string(m))), s.Say("mishap."+string(m)+".sign")))
	}
	buttons := []fyne.CanvasObject{widgets.NewButton(s.Say("report.again"), widgets.Plain, again)}
	if r.Passed && next != nil {
		buttons = append(buttons, widgets.NewButton(s.Say("report.next"), widgets.Do, next))
	}
	buttons = append(buttons, widgets.NewButton(s.Say("report.back"), widgets.Plain, back))
	left = append(left, widgets.NewFlow(150, buttons...), widgets.NewSoft(s.Say("practice.mark")))
	var right []fyne.CanvasObject
	if len(r.Harm) > 0 {
		right = append(right, widgets.NewStrong(s.Say("report.harm")).SetColor(widgets.Vermilion))
		for _, m := range r.Harm {
			right = append(right, widgets.NewRow(widgets.Octagon, widgets.Vermilion, s.Say("tag.stop"), s.Say("harm."+string(m)), "", func() {}))
		}
	}
	if len(r.Missing) > 0 {
		right = append(right, widgets.NewStrong(s.Say("report.missing")))
		for _, m := range r.Missing {
			right = append(right, widgets.NewRow(widgets.Triangle, widgets.InkSoft, s.Say("tag.look"), s.Say("todo."+string(m)), "", func() {}))
		}
	}
	if len(r.Done) > 0 {
		right = append(right, widgets.NewStrong(s.Say("report.done")))
		for _, m := range r.Done {
			right = append(right, widgets.NewRow(widgets.Check, widgets.Green, s.Say("learn.well"), s.Say("done."+string(m)), "", func() {}))
		}
	}
	return widgets.NewBand(screens.Page(s.Say("report.title"), "", widgets.NewSplit(widgets.NewColumn(left...), widgets.NewColumn(right...), 0.45, 720), s.Caution()))
}

func aim(s *screens.Stage, l practice.Lesson) string {
	if l.Code == "" {
		return ""
	}
	return s.Say("lesson." + l.Code + ".aim")
}

// worth is what the load got, in truth: what only a simulated pot can tell.
func worth(s *screens.Stage, r practice.Report) fyne.CanvasObject {
	n := s.Words.Number
	if !r.Begun {
		return widgets.NewCard(widgets.NewPara(s.Say("report.not-lit")))
	}
	readings := ""
	if r.Opened {
		readings = s.Say("report.readings", s.Say("verdict."+string(r.Verdict)))
	}
	air := ""
	if r.HoldBegan {
		air = s.Say("report.air", n(r.Air*100, 1), n(r.PackAir*100, 1))
	}
	return widgets.NewCard(widgets.NewColumn(
		widgets.NewBig(s.Say("report.held", strconv.Itoa(int(r.Held)), strconv.Itoa(int(r.Asked))), 22, widgets.Ink, true),
		widgets.NewPara(readings),
		widgets.NewPara(s.Say("report.truth", n(r.F0, 1), n(r.F0Pack, 1))),
		widgets.NewPara(air),
		widgets.NewPara(s.Say("report.rest", n(r.WaterKg, 1), strconv.Itoa(int(r.Minutes))))))
}
