package work_test

import (
	"testing"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// A comparison made with the reference arrives after it was found wrong.
func TestReferenceWrongThenLateComparison(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	ref := b.reference("R", 1500)
	tablet := x.twin(b)
	x.carry(tablet, b)
	// the tablet compares and runs by it
	tablet.check(tablet.d.Compare(tablet.pot(), tablet.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{50, 50}, {120, 120}}}))
	packs, _ := tablet.sterile(1)
	_, err := b.d.ReferenceWrong(ref, 10) // the laptop is told: it showed 10 kPa too much
	b.check(err)
	x.carry(tablet, b)
	x.carry(b, tablet)
	for _, h := range []house{b, tablet} {
		a, err := h.d.Usable(packs[0])
		h.check(err)
		p, err := h.d.Plan(h.pot(), h.place().Site, model.Wrapped, nil)
		h.check(err)
		if a.Word != register.Held || p.Frozen.RestartMilli != 130_000 {
			t.Errorf("its reference showed 10 kPa too much: the load is %s, and the line %d", a.Word, p.Frozen.RestartMilli)
		}
	}
	after, _ := b.heldAt(140_000) // lit in knowledge of it
	if a, err := b.d.Usable(after[0]); err != nil || a.Word != register.Usable {
		t.Errorf("lit by the line that counts with it: %s, %v", a.Word, err)
	}
	b.tablesHold()
	tablet.tablesHold()
}

// The officer's reference, a district.
func TestOfficeReferenceWrongBeforeTheStick(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	ref := x.office.bench.reference("officer's", 1500)
	for _, h := range []house{b, c} {
		x.carry(x.office, h)
		h.check(h.d.Compare(h.pot(), h.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{50, 50}, {120, 120}}}))
	}
	cp, _ := c.sterile(1)
	_, _ = b.sterile(1)
	x.carry(b, x.office) // C's stick is late
	_, err := x.office.d.ReferenceWrong(ref, 10)
	x.office.check(err)
	x.carry(x.office, b)
	x.carry(c, x.office)
	x.carry(x.office, c)
	x.carry(c, x.office)
	all, err := x.office.d.Standings()
	x.office.check(err)
	for _, s := range all {
		if s.InDoubt != 1 || !s.Bad() {
			t.Errorf("%s: %d in doubt", s.Name, s.InDoubt)
		}
	}
	if c.state(cp[0]) == work.ShelfReady {
		t.Error("the officer's reference showed 10 kPa too much; C's load, watched by a gauge that only it vouches for, is ready")
	}
	b.tablesHold()
}
