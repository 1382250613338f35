package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// Repeat-test path; the first recall is closed before the repeat test grows.
func TestRepeatGrowthAfterNarrowRecallClosed(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	before, _ := b.sterile(2)
	b.check(b.d.OpenPack(before[0], packUse()))
	packs, grew := b.sterile(1)
	b.grows(grew)
	r := b.recallOf()
	b.check(b.d.SetAside(packs[0]))
	b.check(b.d.CloseRecall(r.ID, ""))
	b.grows(b.ztrial()) // the repeat grows
	all, err := b.d.Recalls()
	b.check(err)
	found := false
	for _, r := range all {
		found = found || r.Square(before[0]) != nil
	}
	if !found {
		t.Error("two tests grew, and the patient between the last good test and the first growth is in no recall")
	}
	b.tablesHold()
}

// Two devices, each reads one growth on the repeat-test path.
func TestTwoDevicesTwoGrowthsNarrow(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	before, _ := b.sterile(2)
	b.check(b.d.OpenPack(before[0], packUse()))
	_, grew := b.sterile(1)
	s1 := b.spore(grew, zyear, true)
	_, again := b.sterile(1)
	s2 := b.spore(again, zyear, true)
	tablet := x.twin(b)
	_, err := b.d.ReadSpore(s1, model.SporeRead{Grew: true})
	b.check(err)
	_, err = tablet.d.ReadSpore(s2, model.SporeRead{Grew: true})
	tablet.check(err)
	x.carry(tablet, b)
	x.carry(b, tablet)
	all, err := b.d.Recalls()
	b.check(err)
	found := false
	for _, r := range all {
		found = found || r.Square(before[0]) != nil
	}
	if !found && !b.line("recall-narrow") {
		t.Error("two tests grew, and nothing calls the whole window back or says that it should")
	}
	b.tablesHold()
}

// The stricter policy comes late.
func TestWidePolicyComesLate(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	x.carry(x.office, b)
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	before, _ := b.sterile(1)
	b.check(b.d.OpenPack(before[0], packUse()))
	_, grew := b.sterile(1)
	x.office.clk.Wall = b.clk.Wall
	x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, On: true, Source: "ministry letter"}))
	b.clk.Pass(time.Hour)
	b.grows(grew)
	x.carry(x.office, b)
	x.carry(b, x.office)
	rules, err := b.d.Rules()
	b.check(err)
	r := b.recallOf()
	if rules.On(model.PolicyRecallWide) && !r.Wide && !b.line("recall-narrow") {
		t.Error("the rule that holds now calls every load since the last good test back; the recall is of one load, and nothing says so")
	}
	b.tablesHold()
}

// The same, with one negative between the two growths: the pot has not come back, and the patient of before the first is in the recall of the second.
func TestRepeatGrowthAfterOneNegative(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	before, _ := b.sterile(2)
	b.check(b.d.OpenPack(before[0], packUse()))
	packs, grew := b.sterile(1)
	b.grows(grew)
	r := b.recallOf()
	b.check(b.d.SetAside(packs[0]))
	b.check(b.d.CloseRecall(r.ID, ""))
	b.zneg(b.spore(b.ztrial(), zyear, true))
	b.grows(b.ztrial())
	all, err := b.d.Recalls()
	b.check(err)
	if !slices.ContainsFunc(all, func(r work.Recall) bool { return r.Wide && r.Square(before[0]) != nil }) {
		t.Error("the pot was stopped all the time, and what lies before the first growth is in no recall")
	}
	b.tablesHold()
}
