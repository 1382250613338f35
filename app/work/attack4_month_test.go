package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// A month follows the date that a person said.
func TestMonthFollowsASaidDate(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	test := b.spore(cycle, zyear, true)
	b.clk.Pass(24 * time.Hour)
	day := time.Date(2027, 1, 15, 8, 0, 0, 0, time.UTC)
	b.reboot(time.Hour, time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC))
	b.check(b.d.AnswerDate(day))
	packs, _ := b.sterile(1)
	_, err := b.d.ReadSpore(test, model.SporeRead{Grew: true})
	b.check(err)
	b.check(b.d.Report(work.IncidentForm{Code: model.Burn, Text: "hand"}))
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "3", Anyway: true}))
	b.reboot(time.Hour, time.Date(2027, 2, 3, 8, 0, 0, 0, time.UTC))
	b.check(b.d.Report(work.IncidentForm{Code: model.Burn, Text: "foot"})) // February, the clock is right
	f := b.zmonth(2027, 1)
	if !f.Reported || f.Lit != 1 || f.Grew != 1 || f.Incidents != 1 || f.Opened != 1 {
		t.Errorf("January has its cycle, its growth, its burn and its pack by the date that was said: %+v", f)
	}
}

// Rejected load of a doubtful date.
func TestMonthHidesADoubtfulDate(t *testing.T) {
	b := desk(t)
	_, _ = b.sterile(1)
	b.clk.Pass(24 * time.Hour)
	b.reboot(time.Hour, time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC))
	b.check(b.d.AnswerDate(time.Time{}))
	_, cycle := b.sterile(1)
	b.check(b.d.Reject(cycle, "wet"))
	b.clk.Pass(time.Hour)
	b.reboot(time.Hour, time.Date(2027, 2, 3, 8, 0, 0, 0, time.UTC))
	b.check(b.d.Report(work.IncidentForm{Code: model.Burn, Text: "foot"}))
	f := b.zmonth(2026, 12)
	if f.Rejected != 0 || f.Undated != 1 {
		t.Errorf("a rejected load of which nobody knows the day is in no month, and the month says so: %+v", f)
	}
	if gaps := (work.Month{Sites: []work.Figures{f}}).Worst(5); !slices.ContainsFunc(gaps, func(g work.Gap) bool { return g.Code == "undated" }) {
		t.Errorf("%+v", gaps)
	}
}

// Narrow path: loads stopped by the pot count as released.
func TestMonthCountsStoppedByPotAsReleased(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	packs, _ := b.sterile(1)
	_, grew := b.sterile(1)
	b.grows(grew)
	f := b.zmonth(2026, 12)
	if f.Lit != 2 || f.Released != 0 || b.state(packs[0]) != work.ShelfHeld {
		t.Error("a load that its pot stops is counted as 'released and not stopped since'")
	}
}

// A clinic's clock that stood ahead.
func TestMonthReportedByAClockAhead(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	real := b.clk.Wall
	b.clk.Pass(60 * 24 * time.Hour) // the clock ran ahead for an hour
	_, _ = b.sterile(1)
	b.clk.Wall = real.Add(2 * time.Hour)
	x.carry(b, x.office)
	x.office.clk.Wall = time.Date(2027, 1, 20, 8, 0, 0, 0, time.UTC)
	m, err := x.office.d.MonthOf(2026, 12)
	x.office.check(err)
	for _, f := range m.Sites {
		if f.Reported {
			t.Error("its last stick came on 1 December; December is whole")
		}
	}
}
