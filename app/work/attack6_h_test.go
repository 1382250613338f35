package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The valve did not lift; that it lifts again is told by a device that is taken out since before.
func TestAttack6ValveMendedByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.check(b.d.LiftValve(b.pot(), false, 0))
	if !b.pot().Out {
		t.Fatal("in service")
	}
	x.carry(b, tablet)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.LiftValve(tablet.pot(), true, 150_000))
	x.carry(tablet, b)
	b.check(b.d.BackToService(b.pot(), "valve-stuck", "new valve"))
	b.zsteal(since)
	if !b.pot().Out {
		t.Error("nobody whose word counts saw the valve lift, and the pot is in service")
	}
}

// The error of the reference was written wrongly: 0.6 for 6. It is put right; the gauge was compared with it.
func TestAttack6ErrorOfTheReferencePutRight(t *testing.T) {
	b := atD(t)
	ref := b.reference("R", 600)
	b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: right}))
	p0 := b.plan()
	packs, _ := b.heldAt(130_500)
	b.clk.Pass(time.Hour)
	_, err := b.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: 8000, Certificate: "C-1", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
	b.check(err)
	p1 := b.plan()
	if more := p1.Frozen.RestartMilli - p0.Frozen.RestartMilli; more < 7_000 {
		t.Errorf("the reference may be off by 8 kPa and not by 0.6, and the line rose by %d Pa", more)
	}
	if w := b.word(packs[0]); w != register.Held {
		t.Errorf("it was run by the line of before, and is %s", w)
	}
}

// Clinic B keeps cloth for 7 days; a pack of it is lent to Clinic C.
func TestAttack6LastDayAtAnotherClinic(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyShelfCloth, On: true, Value: 7, Source: "damp store"}))
	packs, _ := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
	x.carry(b, x.office)
	x.carry(x.office, c)
	b.clk.Pass(9 * 24 * time.Hour)
	c.clk.Wall = b.clk.Wall
	if b.state(packs[0]) == work.ShelfExpired && c.state(packs[0]) != work.ShelfExpired {
		t.Error("the label says that it is over, B says so, C:", c.state(packs[0]))
	}
}
