package app

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/demo"
	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
	"mvuke/model/store"
)

// The office sees the invented district: who grew spores stands first, a clinic without a stick says so, and every row opens the clinic's page.
func TestTheOfficeSeesItsClinics(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a district")
	}
	t.Setenv("MVUKE_STATE", t.TempDir())
	now := time.Date(2027, 6, 3, 7, 0, 0, 0, time.UTC)
	dir := filepath.Join(t.TempDir(), "d")
	if err := demo.District(dir, 3, 16, now, nil); err != nil {
		t.Fatal(err)
	}
	s := onRegister(t, filepath.Join(dir, "office"), now)
	s.inWindow("en", fyne.NewSize(1024, 600))
	d := s.d
	s.shell.Go(screens.ToToday, model.ID{})
	s.keep("office")
	all, err := d.Standings()
	if err != nil || len(all) != 8 {
		t.Fatalf("%d %v", len(all), err)
	}
	if all[0].Name != "Ngareli" || all[0].Recalls != 1 || !all[0].Grew {
		t.Errorf("first stands %s, %d recalls", all[0].Name, all[0].Recalls)
	}
	by := map[string]work.Standing{}
	for _, x := range all {
		by[x.Name] = x
	}
	if by["Sotwe Ridge"].InDoubt == 0 || !by["High Olmara"].Silent() || by["Kimbala"].NegativeAgo < 0 {
		t.Errorf("%+v", by)
	}
	var row string
	for _, x := range s.shown() {
		if strings.HasPrefix(x.text(), "Ngareli") {
			row = x.text()
		}
	}
	if !strings.Contains(row, "spores grew") {
		t.Fatalf("%q", row)
	}
	s.tap(row)
	s.keep("office-site")
	text := words(s.win.Content())
	for _, want := range []string{"month by month", "Litres of water a cycle", "Times the fire was fed", "Days from the last comparison"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	list, err := d.CyclesOfAll(200)
	if err != nil || len(list) < 50 {
		t.Fatalf("%d cycles, %v", len(list), err)
	}
	if err := d.Store.Read(func(src store.Reader) { // what is read of beginnings alone is what the whole cycle says
		for _, c := range list {
			b, ok := register.BeginningOf(src, c.State.Ref.ID)
			if !ok || b.Entry.ID() != c.Entry.ID() || len(b.State.Entries) == 0 {
				t.Errorf("cycle %d of %s: %v", c.Begun.Number, c.Site, ok)
			}
		}
	}); err != nil {
		t.Error(err)
	}
	s.shell.Go(screens.ToRecalls, model.ID{})
	s.keep("office-recalls")
	recalls, err := d.Recalls()
	if err != nil || len(recalls) == 0 {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToRecall, recalls[0].ID)
	s.keep("office-recall")
	s.shell.Go(screens.ToToday, model.ID{})
	s.tap("Told twice")
	s.keep("office-clashes")
	var told []string
	for _, x := range s.shown() {
		told = append(told, x.text())
	}
	if text := strings.Join(told, "\n"); !strings.Contains(text, "The pot 1 is described in 2 ways") || !strings.Contains(text, "dressing has 2 versions") {
		t.Errorf("%s", text)
	}
	people, err := d.People()
	if err != nil {
		t.Fatal(err)
	}
	d.Act(people[0].ID)
	s.shell.Go(screens.ToSite, all[0].ID)
	s.tap("Visit")
	s.tap("Gauge compared with the reference")
	s.tap("Back") // asks first: what was tapped is not saved
	s.tap("No")
	s.shell.Go(screens.ToPacks, model.ID{}) // nor is it lost by looking at something else
	if text := words(s.win.Content()); !strings.Contains(text, "packs of every clinic are found") {
		t.Errorf("%s", text)
	}
	s.inWindow("en", fyne.NewSize(1024, 600)) // nor when the program ends
	s.shell.Go(screens.ToSite, all[0].ID)
	s.tap("Visit")
	s.tap("Back")
	s.tap("No")
	s.tap("To be done by a day")
	s.fill("What is to be done", "hang the new card")
	s.fill("In how many days", "14")
	s.keep("office-action")
	s.tap("Save")
	s.keep("office-visit")
	s.tap("Save the visit")
	if open, err := d.OpenActions(all[0].ID); err != nil || len(open) != 1 {
		t.Errorf("%d actions, %v", len(open), err)
	}
	if visits, err := d.Visits(all[0].ID, 1); err != nil || len(visits) != 1 || len(visits[0].Checks) != 1 || !visits[0].Checks[0].Good {
		t.Errorf("%+v, %v", visits, err)
	}
	s.tap("Visit")
	s.tap("Back") // nothing is kept of the one that was saved: nothing is asked
	s.tap("Visit")
	s.win.Resize(fyne.NewSize(1366, 768))
	s.shell.Go(screens.ToToday, model.ID{})
	s.keep("office-wide")
}
