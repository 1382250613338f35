package learn

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/model"
	"mvuke/steam/pot"
)

// Lessons lists the ten, with those that the person acting has passed, and practice by one's own choice.
func Lessons(s *screens.Stage, start func(practice.Lesson)) fyne.CanvasObject {
	passed, err := s.Desk.Training(s.Desk.Acting())
	if err != nil {
		return screens.Page(s.Say("learn.title"), "", widgets.NewPara(s.Fault(err)))
	}
	begin := func(l practice.Lesson) func() { return func() { s.WithPerson(func() { start(l) }) } }
	objs := []fyne.CanvasObject{widgets.NewNotice(widgets.Amber, s.Say("practice.mark"), s.Say("learn.how"))}
	for i, l := range practice.Lessons {
		shape, colour, tag := widgets.Square, widgets.InkSoft, s.Say("learn.open")
		if slices.Contains(passed.Lessons, l.Code) {
			shape, colour, tag = widgets.Check, widgets.Green, s.Say("learn.passed")
		}
		text := strconv.Itoa(i+1) + " · " + s.Say("lesson."+l.Code) + " — " + s.Say("lesson."+l.Code+".aim")
		objs = append(objs, widgets.NewRow(shape, colour, tag, text, s.Say("learn.start"), begin(l)))
	}
	return screens.Page(s.Say("learn.title"), s.Say("learn.count", strconv.Itoa(len(passed.Lessons)), strconv.Itoa(len(practice.Lessons))),
		append(objs, free(s, begin), s.Caution())...)
}

// heights that can be practised at, m.
var heights = []int64{0, 1200, 1800, 2400, 3200}

// free is practice without a lesson: a height, and a mishap or a surprise.
func free(s *screens.Stage, begin func(practice.Lesson) func()) fyne.CanvasObject {
	height, what := int64(1200), 0
	var names []string
	for _, h := range heights {
		names = append(names, strconv.FormatInt(h, 10)+" m")
	}
	mishaps := []string{s.Say("mishap.none"), s.Say("mishap.random")}
	for _, m := range pot.Mishaps {
		mishaps = append(mishaps, s.Say("mishap."+string(m)))
	}
	go_ := widgets.NewButton(s.Say("learn.free.start"), widgets.Do, func() {
		begin(practice.Free(height, chosen(what, s.Desk.Clock.Now())...))()
	})
	return widgets.NewCard(widgets.NewColumn(widgets.NewStrong(s.Say("learn.free")), widgets.NewPara(s.Say("learn.free.height")),
		widgets.NewChoice(names, 1, func(i int) { height = heights[i] }), widgets.NewPara(s.Say("learn.free.mishap")),
		widgets.NewChoice(mishaps, 0, func(i int) { what = i }), go_))
}

// chosen are the mishaps behind a choice: none, one by chance, or the one that was named.
func chosen(i int, now model.Moment) []pot.Mishap {
	switch {
	case i == 0:
		return nil
	case i == 1:
		return []pot.Mishap{pot.Mishaps[now.Wall.UnixNano()%int64(len(pot.Mishaps))]}
	}
	return []pot.Mishap{pot.Mishaps[i-2]}
}
