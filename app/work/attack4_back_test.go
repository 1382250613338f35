package work_test

import (
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// One of three negatives that brought the pot back is void by the other reader.
func TestVoidedNegativeAfterBack(t *testing.T) {
	b := desk(t)
	_, grew := b.sterile(1)
	b.grows(grew)
	var tests []model.ID
	for range 3 {
		id := b.spore(b.ztrial(), zyear, true)
		b.zneg(id)
		tests = append(tests, id)
	}
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
	after, _ := b.sterile(1)
	for i, id := range tests {
		read, err := b.d.SporeTest(id)
		b.check(err)
		b.put(b.manager(byte(91+i)), entry.Draft{Kind: model.KindSporeRead, Targets: read.ReadBy.Body().Refs(), Relies: []entry.ID{read.PlacedBy.ID()},
			Payload: model.SporeRead{Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()}})
		if read, err = b.d.SporeTest(id); err != nil || read.Said != model.SporeVoid {
			t.Fatal(read.Said, err)
		}
	}
	if !b.pot().Out {
		t.Error("all three negatives are void, and the pot is in service; packs:", b.state(after[0]))
	}
	b.tablesHold()
}

// The device that read the negatives is taken out since before it.
func TestNegativesOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, grew := b.sterile(1)
	b.grows(grew)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	for range 3 {
		tablet.zneg(tablet.spore(tablet.ztrial(), zyear, true))
	}
	x.carry(tablet, b)
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
	after, _ := b.sterile(1)
	b.zsteal(since)
	if !b.pot().Out {
		t.Error("all that brought the pot back was told by a stolen device, and it is in service; packs:", b.state(after[0]))
	}
	b.tablesHold()
}

// The same, where the tablet laid the tests in, and the laptop read them.
func TestNegativesLaidInByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, grew := b.sterile(1)
	b.grows(grew)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	var ids []model.ID
	for range 3 {
		ids = append(ids, tablet.spore(tablet.ztrial(), zyear, true))
	}
	x.carry(tablet, b)
	for _, id := range ids {
		b.zneg(id)
	}
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
	after, _ := b.sterile(1)
	b.zsteal(since)
	if !b.pot().Out {
		t.Error("all three were laid in by a stolen device, and the pot is in service; packs:", b.state(after[0]))
	}
	b.tablesHold()
}
