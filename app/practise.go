package app

import (
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/screens/learn"
	"mvuke/model"
)

// Practice takes the whole window, so that nothing of the clinic's register is in reach while it burns. A cycle that is
// really on the fire comes first.

// practise begins a lesson, or practice by choice.
func (s *Shell) practise(l practice.Lesson) {
	d := s.stage.Desk
	if lit, err := d.UnderWay(); !s.stage.Tell(err) {
		return
	} else if lit != nil {
		s.stage.Message(s.stage.Say("learn.lit"))
		return
	}
	person := d.Acting()
	x, err := practice.Start(l, uint64(d.Clock.Now().Wall.UnixNano()), s.stage.Words.Language, d.Person(person).Name, s.stage.Say("learn.site"), d.Clock)
	if !s.stage.Tell(err) {
		return
	}
	s.learn = learn.New(s.stage, x, func(r practice.Report) {
		s.learn = nil
		d.Stir()
		s.stage.Tell(x.Close())
		if r.Passed {
			s.stage.Tell(d.PassLesson(person, l.Code, int64(x.Seed)))
		}
		s.note("practice ended")
		s.win.SetContent(learn.Report(s.stage, r, func() { s.practise(l) }, s.nextLesson(l), func() { s.build(); s.Go(screens.ToLearn, model.ID{}) }))
	})
	s.win.SetContent(s.learn.Object())
	go s.burn(s.learn)
}

// nextLesson is the way to the one after l; nil after the last.
func (s *Shell) nextLesson(l practice.Lesson) func() {
	for i, x := range practice.Lessons {
		if x.Code == l.Code && i+1 < len(practice.Lessons) {
			return func() { s.practise(practice.Lessons[i+1]) }
		}
	}
	return nil
}

// burn lets the practice go on until it is over.
func (s *Shell) burn(v *learn.View) {
	if s.o.Quiet {
		return // a test lets it burn itself
	}
	tick := time.NewTicker(learn.Beat)
	defer tick.Stop()
	for range tick.C {
		over := false
		fyne.DoAndWait(func() {
			if over = s.learn != v; !over {
				v.Tick()
			}
		})
		if over {
			return
		}
	}
}

// Practise begins a lesson as its line in the list does, and gives what is then on the screen.
func (s *Shell) Practise(l practice.Lesson) *learn.View {
	s.practise(l)
	return s.learn
}
