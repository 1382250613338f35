package work_test

import (
	"testing"
	"time"

	"mvuke/model/register"
)

// The only comparison of the gauge is by a device that is taken out since before it: it found that the gauge shows too little, so the needle may stand lower.
func TestAttack6MarkByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	before := b.plan()
	tablet := x.twin(b)
	x.carry(tablet, b)
	ref := b.reference("R", 1500)
	x.carry(b, tablet)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	form := tablet.form(low...)
	form.With = ref
	form.Points[0].Shown, form.Points[0].True = 50, 54
	form.Points[1].Shown, form.Points[1].True = 118, 122
	tablet.check(tablet.d.Compare(tablet.pot(), tablet.place().Site, form))
	x.carry(tablet, b)
	b.zsteal(since)
	after := b.plan()
	if after.Frozen.RestartMilli < before.Frozen.RestartMilli || after.Frozen.MarkMilli < before.Frozen.MarkMilli {
		t.Error("a device that is taken out since before lowers the mark")
	}
	packs, _ := b.sterile(1)
	if b.word(packs[0]) != register.Usable {
		t.Error("lit after the removal, and held")
	}
	b.tablesHold()
}
