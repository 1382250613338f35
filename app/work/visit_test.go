package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// An officer leaves dated actions at a clinic: they stand on its Today from the next stick on, are overdue after their day, and the office hears when they are done.
func TestActionsOfAVisitTravel(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	site, err := b.d.SiteID()
	b.check(err)
	due := x.office.clk.Wall.AddDate(0, 0, 14).UnixMilli()
	if err := x.office.d.SaveVisit(site, work.VisitForm{}); code(err) != "visit-empty" {
		t.Error(err)
	}
	if err := x.office.d.SaveVisit(site, work.VisitForm{Actions: []model.Action{{Text: "x", Due: 1}}}); code(err) != "action-due" {
		t.Error(err)
	}
	x.office.check(x.office.d.SaveVisit(site, work.VisitForm{Checks: []model.VisitCheck{{Code: "gauge", Good: true}, {Code: "card"}}, Actions: []model.Action{{Text: "hang the new card", Due: due}}}))
	x.carry(x.office, b)
	x.carry(x.office, c)
	if _, ok := lineOf(t, c.bench, "action"); ok {
		t.Error("another clinic is asked to do it")
	}
	l, ok := lineOf(t, b.bench, "action")
	if !ok || l.Args[0] != "hang the new card" {
		t.Fatalf("%+v", l)
	}
	b.clk.Pass(15 * 24 * time.Hour)
	if _, ok := lineOf(t, b.bench, "action-overdue"); !ok {
		t.Error("it is overdue, and Today does not say so")
	}
	if got := code(b.d.DoAction(l.Cycle, " ")); got != "action-note" {
		t.Error(got)
	}
	b.check(b.d.DoAction(l.Cycle, "card 2 hangs"))
	x.carry(b, x.office)
	open, err := x.office.d.OpenActions(site)
	x.office.check(err)
	visits, err := x.office.d.Visits(site, 5)
	x.office.check(err)
	if len(open) != 0 || len(visits) != 1 || len(visits[0].Checks) != 2 {
		t.Errorf("%d actions open, %d visits", len(open), len(visits))
	}
}
