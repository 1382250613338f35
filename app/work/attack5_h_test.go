package work_test

import (
	"testing"
	"time"

	"mvuke/model"
)

// Three tests that two devices read, at 57 and at 56 degrees.
func TestTwoReadersThenThreeMore(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	_, grew := b.sterile(1)
	b.grows(grew)
	var ids []model.ID
	for range 3 {
		ids = append(ids, b.spore(b.ztrial(), zyear, true))
	}
	x.carry(b, tablet)
	b.clk.Pass(50 * time.Hour)
	for _, id := range ids {
		_, err := b.d.ReadSpore(id, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
		b.check(err)
		_, err = tablet.d.ReadSpore(id, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 56})
		tablet.check(err)
	}
	x.carry(tablet, b)
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
	x.carry(b, tablet)
	for _, h := range []house{b, tablet} {
		if h.pot().Out {
			t.Errorf("%s: both read them as negative, and the pot is out", h.name)
		}
	}
}
