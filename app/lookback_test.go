package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
)

// readsHigh has the gauge compared, and found to show twelve too much: it gives the pot and its loads in doubt.
func (s *stage) readsHigh() (work.Pot, []work.LookedBack) {
	s.t.Helper()
	place, err := s.d.Place()
	if err != nil {
		s.t.Fatal(err)
	}
	refs, err := s.d.References()
	if err != nil || len(refs) == 0 {
		s.t.Fatal(err)
	}
	pot := place.Pots[0]
	f := work.CompareForm{Cold: true, With: refs[0].ID, Points: []work.ComparePoint{{Shown: 62, True: 50}, {Shown: 136, True: 124}}}
	if err := s.d.Compare(pot, place.Site, f); err != nil {
		s.t.Fatal(err)
	}
	doubt, err := s.d.InDoubt(pot.ID)
	if err != nil || len(doubt) == 0 {
		s.t.Fatalf("%d in doubt, %v", len(doubt), err)
	}
	return pot, doubt
}

// The gauge was found to show too much: Today leads to the loads in doubt, each stands there with both verdicts, and one tap with a reason frees what stands and calls the rest back.
func TestLookingBackByTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	pot, doubt := s.readsHigh()
	s.shell.Go(screens.ToToday, model.ID{})
	line := ""
	for _, x := range s.shown() {
		if strings.Contains(x.text(), "loads are in doubt") {
			line = x.text()
		}
	}
	s.tap(line)
	s.keep("lookback")
	button := ""
	for _, x := range s.shown() {
		if text := x.text(); strings.HasPrefix(text, "Free ") || (strings.HasPrefix(text, "Call ") && strings.HasSuffix(text, " back")) {
			button = x.text()
		}
	}
	s.tap(button)
	s.fill("Reason", "with the officer")
	s.keep("lookback-ask")
	s.tap("Save")
	s.keep("lookback-recalls")
	for _, l := range doubt {
		now, err := s.d.LookBack(l.ID)
		if err != nil {
			t.Fatal(err)
		}
		if l.Stands == (len(now.Codes) > 0) {
			t.Errorf("cycle %d stands %v, and is in doubt by %v", l.Cycle.Begun.Number, l.Stands, now.Codes)
		}
	}
	s.shell.Go(screens.ToCompare, pot.ID)
	s.tap("Another gauge was screwed on")
	s.keep("gauge-new")
}
