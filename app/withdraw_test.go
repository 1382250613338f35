package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
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
	s.tap(s.rowWith("up to 12"))
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

// The wrong comparison was of a gauge that is screwed off since: it is listed below the gauge that is on the pot, compared once more with the old one in the hand, and taken back.
func TestAComparisonOfAnEarlierGaugeByTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	pot, _ := s.readsHigh()
	if open, err := s.d.UnderWay(); err != nil || open == nil {
		t.Fatal(open, err)
	} else if err := s.d.CloseCycle(open.State.Ref.ID, model.CycleClosed{Outcome: model.Aborted, Reason: "the fire went out"}); err != nil {
		t.Fatal(err)
	}
	if err := s.d.NewGauge(pot, model.GaugeLooks{Serial: "B 77", Unit: "kPa", SpanMilli: 250_000, LineMilli: 5_000, ClassMilli: 1600}); err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToCompare, pot.ID)
	if text := words(s.win.Content()); !strings.Contains(text, "Gauge no. B 77, to 250 kPa") || !strings.Contains(text, "This gauge was not compared yet") || !strings.Contains(text, "A gauge that was on this pot before") {
		t.Error(text)
	}
	s.keep("earlier-list")
	s.tap(s.rowWith("up to 12"))
	if text := words(s.win.Canvas().Overlays().Top()); !strings.Contains(text, "Compare this gauge again first, here") {
		t.Errorf("the only one that counts is taken back: %s", text)
	}
	s.tap("OK") // the form of that gauge has come up behind the sentence
	s.keep("earlier-compare")
	if text := words(s.win.Content()); strings.Contains(text, "Another gauge was screwed on") || strings.Contains(text, "B 77") {
		t.Error(text)
	}
}

// rowWith is the whole text of what says something on the page.
func (s *stage) rowWith(text string) (row string) {
	s.t.Helper()
	for _, x := range s.shown() {
		if strings.Contains(x.text(), text) {
			row = x.text()
		}
	}
	return row
}
