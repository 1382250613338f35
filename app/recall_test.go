package app

import (
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/demo"
	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
)

// keep keeps a picture of the window where MVUKE_SHOTS names a folder.
func (s *stage) keep(name string) {
	s.t.Helper()
	to := os.Getenv("MVUKE_SHOTS")
	if to == "" {
		return
	}
	f, err := os.Create(filepath.Join(to, name+".png"))
	if err != nil {
		s.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, s.win.Canvas().Capture()); err != nil {
		s.t.Fatal(err)
	}
}

// Spores grew: Today leads to the recall, every pack is looked for by taps, and it ends only with a reason for what was not found.
func TestARecallByTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	tests, err := s.d.SporeTests(10)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range tests {
		if x.Said == model.SporeWaiting {
			if _, err := s.d.ReadSpore(x.ID, model.SporeRead{Grew: true}); err != nil {
				t.Fatal(err)
			}
		}
	}
	text := func() string { return words(s.win.Content()) }
	s.shell.Go(screens.ToToday, model.ID{})
	s.keep("recall-today")
	var line string
	for _, x := range s.shown() {
		if strings.HasPrefix(x.text(), "Recall 1:") {
			line = x.text()
		}
	}
	s.tap(line)
	s.keep("recall")
	all, err := s.d.Recalls()
	if err != nil || len(all) != 1 {
		t.Fatalf("%d %v", len(all), err)
	}
	r := all[0]
	if !strings.Contains(text(), "packs: the sums add up") {
		t.Fatal(text())
	}
	s.tap("on the shelf")
	s.keep("recall-shelf")
	s.tap("Found, and set aside") // nothing is chosen: nobody answers for all by a tap that meant another
	if again, err := s.d.Recall(r.ID); err != nil || again.Found != r.Found {
		t.Fatalf("%d found by a tap with nothing chosen, %v", again.Found-r.Found, err)
	}
	s.tap("OK")
	s.chooseAll()
	s.tap("Found, and set aside")
	if r, err = s.d.Recall(r.ID); err != nil || r.Sum[work.AtShelf] != 0 || r.Sum[work.AtAside] == 0 {
		t.Fatalf("%v %v", r.Sum, err)
	}
	for _, x := range []struct{ at, do string }{{"issued or lent", "Looked for, and not found"}, {"opened on somebody", "The clinician was told"}} {
		at := work.AtIssued
		if x.at == "opened on somebody" {
			at = work.AtUsed
		}
		if r.Sum[at] == 0 {
			continue
		}
		s.shell.Go(screens.ToRecall, r.ID)
		s.tap(x.at)
		s.chooseAll()
		s.tap(x.do)
		if at == work.AtUsed {
			s.fill("Reason", "clinical officer on duty")
			s.tap("Save")
		}
	}
	s.shell.Go(screens.ToRecall, r.ID)
	s.keep("recall-found")
	s.tap("Close this recall")
	s.keep("recall-close")
	if r, err = s.d.Recall(r.ID); err == nil && r.Found == r.Total {
		s.tap("Yes")
	}
	if r, err = s.d.Recall(r.ID); err != nil || (r.Found < r.Total) == r.Closed {
		t.Fatalf("%d of %d found, closed %v, %v", r.Found, r.Total, r.Closed, err)
	}
	s.win.Resize(fyne.NewSize(1366, 768))
	s.shell.Go(screens.ToRecalls, model.ID{})
	s.keep("recalls")
}

// A recall that was ended by a reason before anybody was told says so for ever, in the list and on its page.
func TestARecallEndedWithPatientsUntoldSaysSo(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	ids, err := s.d.LatestCycles(10)
	if err != nil {
		t.Fatal(err)
	}
	var shelf []model.LoadPack
	var load model.ID
	for _, id := range ids {
		c, err := s.d.Cycle(id)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Released) > 0 && len(c.Begun.Packs) > 0 {
			load, shelf = id, c.Begun.Packs
		}
	}
	used := 0
	for _, p := range shelf {
		if err := s.d.OpenPack(p.ID, work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}); err == nil {
			used++
		}
	}
	if used == 0 {
		t.Fatal("no pack could be opened")
	}
	id, err := s.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "the door stood open", Loads: []model.ID{load}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := s.d.Recall(id)
	if err != nil || r.Untold == 0 {
		t.Fatalf("%d untold, %v", r.Untold, err)
	}
	if err := s.d.CloseRecall(id, "the clinician is away"); err != nil {
		t.Fatal(err)
	}
	want := s.shell.stage.Words.Count("recall.short.untold", r.Untold, strconv.Itoa(r.Total-r.Found))
	s.shell.Go(screens.ToRecalls, model.ID{})
	if text := words(s.win.Content()); !strings.Contains(text, want) {
		t.Errorf("the list: %s", text)
	}
	s.shell.Go(screens.ToRecall, id)
	s.keep("recall-untold-ended")
	if text := words(s.win.Content()); !strings.Contains(text, want) || !strings.Contains(text, "the clinician is away") {
		t.Errorf("%s", text)
	}
}

// Bad news of a pot comes when its load is shut in and no fire is lit: the page offers none.
func TestNoFireIsLitInAStoppedPot(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	p, err := s.d.Place()
	if err != nil {
		t.Fatal(err)
	}
	if c, err := s.d.UnderWay(); err != nil || c == nil || s.d.CloseCycle(c.State.Ref.ID, model.CycleClosed{Outcome: model.Aborted, Reason: "no wood"}) != nil {
		t.Fatal(err)
	}
	id, _, err := s.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(2, 900), TestPack: true, WaterML: 2600, Fuel: "wood"})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.d.Step(id, model.StepLidShut, nil); err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToPot, model.ID{})
	lit := s.shell.stage.Say("pot.lit.do")
	offered := func() bool {
		return slices.ContainsFunc(s.shown(), func(x touch) bool { return x.text() == lit })
	}
	if !offered() {
		t.Fatal("the fire is not asked for")
	}
	tests, err := s.d.SporeTests(10)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range tests {
		if x.Said == model.SporeWaiting {
			if _, err := s.d.ReadSpore(x.ID, model.SporeRead{Grew: true}); err != nil {
				t.Fatal(err)
			}
		}
	}
	s.shell.Go(screens.ToToday, model.ID{})
	s.shell.Go(screens.ToPot, model.ID{})
	s.keep("pot-forbidden")
	if text := words(s.win.Content()); offered() || !strings.Contains(text, s.shell.stage.Say("pot.out.unlit")) {
		t.Errorf("%s", text)
	}
}

// A recall of one load has ended, and the rules ask for every load since: the line of Today leads to where they are called back.
func TestANarrowRecallThatEndedIsWidenedFromToday(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	rule := model.Policy{Code: model.PolicyRecallWide, Source: "district letter"}
	if err := s.d.SetPolicy(rule); err != nil {
		t.Fatal(err)
	}
	tests, err := s.d.SporeTests(10)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range tests {
		if x.Said == model.SporeWaiting {
			if _, err := s.d.ReadSpore(x.ID, model.SporeRead{Grew: true}); err != nil {
				t.Fatal(err)
			}
		}
	}
	all, err := s.d.Recalls()
	if err != nil || len(all) != 1 || all[0].Wide {
		t.Fatalf("%d recalls, %v", len(all), err)
	}
	if err := s.d.CloseRecall(all[0].ID, "looked for in every ward"); err != nil {
		t.Fatal(err)
	}
	rule.On = true
	if err := s.d.SetPolicy(rule); err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToToday, model.ID{})
	s.keep("recall-narrow")
	var line string
	for _, x := range s.shown() {
		if strings.HasPrefix(x.text(), "Recall 1 is of single loads") {
			line = x.text()
		}
	}
	s.tap(line)
	s.tap("Call back every load since the last good test")
	s.fill("Reason", "the district asks for it")
	s.tap("Save")
	if r, err := s.d.Recall(all[0].ID); err != nil || !r.Wide || r.Closed {
		t.Errorf("wide %v, closed %v, %v", r.Wide, r.Closed, err)
	}
}

// chooseAll chooses every pack of the list that is shown.
func (s *stage) chooseAll() {
	s.t.Helper()
	for _, x := range s.shown() {
		if text := x.text(); strings.HasPrefix(text, "Choose all") || text == "Choose this one" {
			s.tap(text)
			return
		}
	}
	s.t.Fatal("nothing to choose all by")
}
