package paper

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// A visit sheet has every line of the checklist; an empty one has room for what is agreed on, one of a visit says what was, and what waits from before stands on both.
func TestVisitSheet(t *testing.T) {
	made := time.Date(2027, 3, 9, 0, 0, 0, 0, time.UTC)
	said := &work.VisitView{When: made, Known: true, Visit: model.Visit{Checks: []model.VisitCheck{{Code: "gauge", Good: true}, {Code: "valve"}},
		Actions: []model.Action{{ID: model.ID{1}, Text: "hang the new card", Due: made.AddDate(0, 0, 14).UnixMilli()}}}}
	open := []work.ActionView{{Action: model.Action{ID: model.ID{1}, Text: "hang the new card"}}, {Action: model.Action{ID: model.ID{2}, Text: "count the strips", Due: made.UnixMilli()}, By: "T."}}
	for _, lang := range assets.Languages() {
		w := assets.For(lang)
		for name, v := range map[string]Visit{"empty": {Site: "Ndovari", Known: []string{"newest record 3 days old"}, Open: open[1:]}, "told": {Site: "Ndovari", Said: said, By: "T. — officer", Open: open}} {
			var a, b bytes.Buffer
			if err := VisitSheet(&a, w, A4, v, made); err != nil {
				t.Fatal(err)
			}
			if err := VisitSheet(&b, w, A4, v, made); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("two drawings differ (%v)", err)
			}
			if dir := os.Getenv("MVUKE_SHOTS"); dir != "" {
				os.WriteFile(filepath.Join(dir, "visit-"+name+"-"+lang+".pdf"), a.Bytes(), 0o600)
			}
			got := text(t, a.Bytes())
			for _, code := range work.VisitChecks {
				if !strings.Contains(got, w.Say("visit.check."+code)) {
					t.Errorf("%s %s lacks %s", lang, name, code)
				}
			}
			if strings.Count(got, "hang the new card") != strings.Count(name, "told") || !strings.Contains(got, "count the strips") || strings.Contains(got, "[") {
				t.Errorf("%s %s: %s", lang, name, got)
			}
		}
	}
}

// What each clinic asks for stands on its page, and the sum of all on the first.
func TestMonthReportOrders(t *testing.T) {
	made := time.Date(2027, 3, 9, 0, 0, 0, 0, time.UTC)
	m := work.Month{From: made.AddDate(0, 0, -8), Reported: 2, Sites: []work.Figures{
		{Site: model.ID{1}, Name: "Ndovari", Reported: true, Lit: 4, Held: 4, Released: 3, NegativeAgo: 12, ComparedAgo: -1, WaterML: 10_400, Waters: 4, Fed: 22, Fires: 4},
		{Site: model.ID{2}, Name: "Kimbala", Reported: true, NegativeAgo: -1, ComparedAgo: 40, RecallsEnded: 2, RecallDays: 9}}}
	short := func(perMonth float64) []work.Item {
		return []work.Item{{What: model.StockTape, Known: true, Left: 1, PerMonth: perMonth, Days: 1}}
	}
	w := assets.For("en")
	var a bytes.Buffer
	if err := MonthReport(&a, w, A4, "Tesharo district", m, map[model.ID][]work.Item{{1}: short(10), {2}: short(20)}, made); err != nil {
		t.Fatal(err)
	}
	if dir := os.Getenv("MVUKE_SHOTS"); dir != "" {
		os.WriteFile(filepath.Join(dir, "month-orders.pdf"), a.Bytes(), 0o600)
	}
	pages := strings.Split(text(t, a.Bytes()), "\f")
	for i, want := range [][]string{{": 88"}, {": 29", "since a negative test 12, since a comparison –", "Water 2.6 L a cycle, fire fed 5.5 times"}, {": 59", "since a negative test –, since a comparison 40", "a recall: 4.5"}} {
		for _, x := range want {
			if i >= len(pages) || !strings.Contains(pages[i], x) {
				t.Errorf("page %d lacks %q: %s", i+1, x, pages)
			}
		}
	}
}
