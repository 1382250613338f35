package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// Found wrong on the laptop, stated anew on the tablet, at once.
func TestReferenceTwoValues(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	ref := b.reference("R", 1500)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	_, err := b.d.ReferenceWrong(ref, 10)
	b.check(err)
	for range 5 {
		tablet.sterile(1) // its counter runs on
	}
	_, err = tablet.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: 600, Certificate: "C-1, copied", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
	tablet.check(err)
	x.carry(tablet, b)
	x.carry(b, tablet)
	err = b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{50, 50}, {120, 120}}})
	if code(err) != "reference-overdue" {
		t.Errorf("it was found 10 kPa wrong, and what the tablet said at once is shown first: %v", err)
	}
}

// Two errors stated at once.
func TestReferenceTwoErrors(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	ref := b.reference("R", 1500)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	say := func(h house, off int64) {
		_, err := h.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: off, Certificate: "C-2", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
		h.check(err)
	}
	say(b, 4000)
	tablet.sterile(1)
	say(tablet, 600)
	x.carry(tablet, b)
	b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{50, 50}, {120, 120}}}))
	p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	if p.Gauge.ReferenceError < 4 {
		t.Error("it may be off by 4 or by 0.6: the mark is made with", p.Gauge.ReferenceError)
	}
}

// What two devices said alike is no clash: nothing of it is to be settled.
func TestSaidTwiceAlikeIsNoClash(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	ref := b.reference("R", 1500)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	due := b.clk.Wall.AddDate(1, 0, 0).UnixMilli()
	for i, off := range []int64{600, 600, 900} {
		h := []house{b, tablet, tablet}[i]
		_, err := h.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: off, Certificate: "C-2", Due: due})
		h.check(err)
		if i == 0 {
			continue
		}
		x.carry(tablet, b)
		all, err := b.d.Clashes()
		b.check(err)
		listed := slices.ContainsFunc(all, func(c work.Clash) bool { return c.ID == ref })
		refs, err := b.d.References()
		b.check(err)
		if alike := off == 600; listed == alike || refs[0].Two == alike {
			t.Errorf("600 and %d: listed %v, two %v", off, listed, refs[0].Two)
		}
	}
}
