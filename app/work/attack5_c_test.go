package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// sterileOrNot lets the counter of a device run on.
func (b *bench) sterileOrNot() {
	for range 40 {
		b.check(b.d.TellStock(model.StockTape, 3, true))
	}
}

// Two devices of a clinic read each of the three tests, one at 56 and one at 57 degrees, all negative. The pot is to come back.
func TestTwoReadersAgree(t *testing.T) {
	for name, r := range map[string]model.SporeRead{"56 degrees": {ControlGrew: true, Hours: 48, Degrees: 56}, "24 hours": {ControlGrew: true, Hours: 24, Degrees: 57}} {
		for _, when := range []string{"before", "after"} {
			t.Run(name+" "+when, func(t *testing.T) {
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
				}
				tablet.sterileOrNot()
				for _, id := range ids {
					_, err := tablet.d.ReadSpore(id, r)
					b.check(err)
				}
				if when == "before" {
					x.carry(tablet, b)
				}
				b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
				if when == "before" && b.pot().Out {
					t.Error("all three were read as negative by both, the act was taken, and the pot is still out")
				}
				packs, _ := b.sterile(1)
				if when == "after" {
					x.carry(tablet, b)
				}
				if b.pot().Out || b.state(packs[0]) != work.ShelfReady {
					t.Error("both read them as negative; the pot is out again; packs", b.state(packs[0]))
				}
				b.tablesHold()
			})
		}
	}
}

// The good test that a recall leans on was read by two devices, at 56 and at 57 degrees.
func TestRecallLeansOnTestReadTwice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	_, c0 := b.sterile(1)
	b.zneg(b.spore(c0, zyear, true))
	early, _ := b.sterile(1)
	_, c1 := b.sterile(1)
	s := b.spore(c1, zyear, true)
	x.carry(b, tablet)
	b.clk.Pass(50 * time.Hour)
	_, err := b.d.ReadSpore(s, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	b.check(err)
	_, err = tablet.d.ReadSpore(s, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 56})
	b.check(err)
	x.carry(tablet, b)
	_, c2 := b.sterile(1)
	b.grows(c2)
	b.zback()
	r := b.recallOf()
	if r.Square(early[0]) != nil || b.state(early[0]) != work.ShelfReady {
		t.Error("run before the last good test:", b.state(early[0]))
	}
	b.tablesHold()
}
