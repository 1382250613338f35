package work_test

import (
	"testing"

	"mvuke/app/tables"
	"mvuke/app/work"
	"mvuke/model"
)

// Tables at the office.
func TestTablesAtTheOffice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, cycle := b.sterile(1)
	b.grows(cycle)
	b.check(b.d.Report(work.IncidentForm{Code: model.Burn, Text: "hand"}))
	x.carry(b, x.office)
	for _, n := range tables.Exports {
		tb, err := tables.Read(x.office.d, n)
		x.office.check(err)
		mine, err := tables.Read(b.d, n)
		b.check(err)
		if (n == "spores" || n == "incidents") && len(tb.Rows) == 0 && len(mine.Rows) > 0 {
			t.Error(n, ": a test grew and somebody was burnt at the clinic; the office's table is empty, and has no column for the clinic")
		}
	}
}

// Absent recall in the export.
func TestRecallWithoutLoadsInTheExport(t *testing.T) {
	b := desk(t)
	b.grows(b.ztrial())
	tb, err := tables.Read(b.d, "recalls")
	b.check(err)
	_, err = b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "telephoned by the office", Loads: []model.ID{{1, 2, 3}}})
	b.check(err)
	tb, err = tables.Read(b.d, "recalls")
	b.check(err)
	if len(tb.Rows) == 0 {
		t.Error("two recalls are open, and the export of recalls is empty")
	}
}

// A clinic of which nothing has come.
func TestAClinicOfWhichNothingCame(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	_, cycle := b.sterile(1)
	b.grows(cycle)
	inv, site := x.answer(b)
	b.check(b.d.Accept(inv, true))
	x.office.check(x.office.d.Prove(site)) // its first stick has not come yet
	tb, err := tables.Read(x.office.d, "sites")
	x.office.check(err)
	for _, r := range tb.Rows {
		if r[2] == "0" || r[6] == "no" || r[7] == "0" {
			t.Error("nothing has come of it (a test grew there): altitude 0, nothing grew, no recall, none in doubt, none stopped")
		}
	}
	_, err = x.office.d.Standings()
	x.office.check(err)
}
