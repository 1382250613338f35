package app

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/demo"
	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
)

// An office of many clinics sees them by bands of height, the worst first and some at a time; none is left out, and a recall that was ended and is open all the same moves its clinic up.
func TestTheOfficeOfManyClinics(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a district")
	}
	t.Setenv("MVUKE_STATE", t.TempDir())
	const clinics = 20
	now := time.Date(2027, 12, 30, 8, 0, 0, 0, time.UTC)
	dir := t.TempDir()
	if err := demo.LargeDistrict(dir, clinics, 52, 1, now); err != nil {
		t.Fatal(err)
	}
	s := onRegister(t, filepath.Join(dir, "office"), now)
	d := s.d
	people, err := d.People()
	if err != nil {
		t.Fatal(err)
	}
	d.Act(people[0].ID)
	s.inWindow("en", fyne.NewSize(1366, 768))
	clinicRows := func() (rows []string) {
		for _, x := range s.shown() {
			if strings.HasPrefix(x.text(), "Clinic ") {
				rows = append(rows, x.text())
			}
		}
		return rows
	}
	office := func() []string {
		s.things = nil
		s.shell.Go(screens.ToToday, model.ID{})
		return clinicRows()
	}
	rows := office()
	s.keep("office-many")
	if len(rows) != 16 || !strings.Contains(words(s.win.Content()), "16 of 20 clinics shown") {
		t.Fatalf("%d rows: %v", len(rows), rows)
	}
	for _, row := range rows {
		if !strings.Contains(row, "November: ") || strings.Contains(row, "…") || strings.Contains(row, "November: –") {
			t.Errorf("last month is not counted: %s", row)
		}
	}
	s.tap("Show more")
	all, err := d.Standings()
	if err != nil || len(all) != clinics {
		t.Fatal(len(all), err)
	}
	rows = clinicRows()
	for _, x := range all {
		if !slices.ContainsFunc(rows, func(row string) bool { return strings.HasPrefix(row, x.Name+" · ") }) {
			t.Errorf("%s is not shown", x.Name)
		}
	}

	s.fill("Find a clinic by its name", all[19].Name)
	if rows = clinicRows(); len(rows) != 1 || !strings.HasPrefix(rows[0], all[19].Name) || !strings.Contains(words(s.win.Content()), "1 of 1 clinics shown, 20 in the district") {
		t.Errorf("%s is not found: %v", all[19].Name, rows)
	}
	s.fill("Find a clinic by its name", "")

	last := all[clinics-1]
	loads, err := d.CyclesAt(last.ID, 9)
	if err != nil {
		t.Fatal(err)
	}
	recall, err := d.OpenRecall(work.RecallForm{Why: model.RecallHand, Loads: []model.ID{loads[3].State.Ref.ID}, Reason: "the strip was of an old lot"})
	if err != nil {
		t.Fatal(err)
	}
	rise := func(what string) {
		t.Helper()
		list, err := d.Standings()
		if err != nil || list[0].ID != last.ID || list[0].Recalls != 1 {
			t.Fatalf("%s: %s is first with %d recalls, %v", what, list[0].Name, list[0].Recalls, err)
		}
		if rows := office(); !strings.HasPrefix(rows[0], last.Name) || !strings.Contains(rows[0], "1 recall open") {
			t.Fatalf("%s: %v", what, rows)
		}
	}
	s.shell.Go(screens.ToRecall, recall)
	s.keep("office-many-recall")
	if text := words(s.win.Content()); !strings.Contains(text, last.Name+" hears of it by the next stick") {
		t.Errorf("what is to be done next is not said: %s", text)
	}
	rise("opened")
	if err := d.CloseRecall(recall, "the lot was good after all"); err != nil {
		t.Fatal(err)
	}
	if list, err := d.Standings(); err != nil || list[0].Recalls != 0 {
		t.Fatalf("%s has %d recalls, %v", list[0].Name, list[0].Recalls, err)
	}
	if err := d.WidenRecall(recall, "the lot was used longer"); err != nil {
		t.Fatal(err)
	}
	soon, err := d.StandingsSoon()
	if err != nil || soon[0].Recalls != 0 {
		t.Fatalf("%d recalls before the ended one is read, %v", soon[0].Recalls, err)
	}
	if x, err := d.StandingAt(last.ID); err != nil || x.Recalls != 1 { // its page reads its own again
		t.Fatalf("%d recalls on its page, %v", x.Recalls, err)
	}
	rise("open all the same")
}
