package work_test

import (
	"testing"

	"mvuke/app/work"
	"mvuke/model"
)

// First recall still open (one pack not found), pot mended and back, loads run, grows again.
func TestSecondGrowthWhileFirstRecallOpen(t *testing.T) {
	b := desk(t)
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	_, grew := b.sterile(2)
	b.grows(grew)
	b.zback()
	l1, _ := b.sterile(2)
	if s := b.state(l1[0]); s != work.ShelfReady {
		t.Fatal(s)
	}
	b.check(b.d.OpenPack(l1[0], packUse()))
	b.check(b.d.MovePack(l1[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	l2, _ := b.sterile(2)
	b.check(b.d.OpenPack(l2[0], packUse()))
	_, c3 := b.sterile(2)
	b.grows(c3)
	all, err := b.d.Recalls()
	b.check(err)
	in := func(p model.ID) bool {
		for _, r := range all {
			if r.Square(p) != nil {
				return true
			}
		}
		return false
	}
	for i, p := range []model.ID{l1[0], l1[1], l2[0], l2[1]} {
		if !in(p) {
			t.Errorf("pack %d of the bad time (after the negatives, before the growth) is in no recall", i)
		}
	}
	// pot is mended again
	b.zback()
	b.tablesHold()
}
