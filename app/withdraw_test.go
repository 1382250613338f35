package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/work"
)

// The comparison that put the loads in doubt was of another gauge: from the loads in doubt a tap leads to the list of comparisons, where it is taken back with a reason; the loads wait until
// they are looked at again, and then stand.
func TestAComparisonIsTakenBackByTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	pot, before := s.readsHigh()
	place, err := s.d.Place()
	if err != nil {
		t.Fatal(err)
	}
	refs, err := s.d.References()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.d.Compare(pot, place.Site, work.CompareForm{Cold: true, With: refs[0].ID, Points: []work.ComparePoint{{Shown: 50, True: 50}, {Shown: 124, True: 124}}}); err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToLookBack, pot.ID)
	s.tap("Comparisons of this gauge")
	row := ""
	for _, x := range s.shown() {
		if strings.Contains(x.text(), "up to 12") {
			row = x.text()
		}
	}
	s.tap(row)
	s.keep("withdraw-ask")
	s.fill("Reason", "figures of the other pot")
	s.tap("Save")
	s.keep("withdraw-list")
	list := ""
	for _, x := range s.shown() {
		list += x.text() + "\n"
	}
	if !strings.Contains(list, "taken back on") || !strings.Contains(list, "figures of the other pot") {
		t.Error(list)
	}
	after, err := s.d.InDoubt(pot.ID)
	if err != nil || len(after) < len(before) {
		t.Fatalf("%d were in doubt, %d are before anybody looked again; %v", len(before), len(after), err)
	}
	s.shell.Go(screens.ToLookBack, pot.ID)
	s.keep("withdraw-lookback")
	if text := words(s.win.Content()); !strings.Contains(text, "was taken back") {
		t.Error(text)
	}
}
