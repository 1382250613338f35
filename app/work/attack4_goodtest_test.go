package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// A wide recall for strips leans on a negative that is void later.
func TestWideStripRecallListsWhatItDoesNotHold(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(2)
	b.check(b.d.OpenPack(early[1], packUse()))
	_, good := b.sterile(1)
	test := b.spore(good, zyear, true)
	b.zneg(test)
	packs, cycle := b.sterile(2)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNot}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallStrip, Cause: cycle, Loads: []model.ID{cycle}})
	b.check(err)
	b.check(b.d.WidenRecall(id, "two more strips failed"))
	b.zvoid(91, test)
	r := b.recallOf()
	if r.Square(early[0]) != nil && b.state(early[0]) == work.ShelfReady {
		t.Error("called back, and ready; issued:", b.d.MovePack(early[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	}
	b.tablesHold()
}

// The negative that the window leant on is void, after the pot came back.
func TestWindowWidensAfterThePotCameBack(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(2)
	b.check(b.d.OpenPack(early[1], packUse()))
	_, good := b.sterile(1)
	test := b.spore(good, zyear, true)
	b.zneg(test)
	_, bad := b.sterile(1)
	b.grows(bad)
	b.zback()
	b.zvoid(91, test)
	r := b.recallOf()
	if b.state(early[0]) == work.ShelfReady {
		t.Error("no good test lies between it and the growth any more; it is called back:", r.Square(early[0]) != nil, ", and ready")
	}
	// a clinic that issues it
	if err := b.d.MovePack(early[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}); code(err) != "pack-not-usable" {
		t.Errorf("issued: %v", err)
	}
	b.tablesHold()
}

// The same, by a removal.
func TestWindowWidensByARemoval(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	early, _ := b.sterile(2)
	b.check(b.d.OpenPack(early[1], packUse()))
	_, good := b.sterile(1)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.zneg(tablet.spore(good, zyear, true))
	x.carry(tablet, b)
	_, bad := b.sterile(1)
	b.grows(bad)
	b.zback()
	b.zsteal(since)
	r := b.recallOf()
	if b.state(early[0]) == work.ShelfReady {
		t.Error("called back", r.Square(early[0]) != nil, "and ready")
	}
	b.tablesHold()
}

// Freed before, on a negative of a device that is taken out.
func TestFreedOnANegativeOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	early, _ := b.sterile(1)
	_, good := b.sterile(1)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.zneg(tablet.spore(good, zyear, true))
	x.carry(tablet, b)
	_, bad := b.sterile(1)
	b.grows(bad)
	_, err := b.d.FreeBefore(b.recallOf().ID, "no others tonight")
	b.check(err)
	if s := b.state(early[0]); s != work.ShelfReady {
		t.Fatalf("freed, and %s", s)
	}
	b.zsteal(since)
	r := b.recallOf()
	if b.state(early[0]) == work.ShelfReady {
		t.Error("it was freed on the word of a stolen device; called back:", r.Square(early[0]) != nil)
	}
	b.tablesHold()
}
