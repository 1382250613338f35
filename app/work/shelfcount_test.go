package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// Counting a place: what lies there is stored there, what is missed is marked until it turns up, and nothing becomes good by lying on the shelf.
func TestCountingAPlaceOfTheShelf(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(5)
	label := func(id model.ID) string { p, err := b.d.Pack(id); b.check(err); return p.Label }
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveStored, To: "A2"}))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveStored, To: "a2"}))
	b.check(b.d.SpoilPack(packs[3], model.SpoiltTorn))
	b.check(b.d.MovePack(packs[4], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	if _, err := b.d.CheckShelf(" ", nil); code(err) != "shelf-place" {
		t.Error(err)
	}
	c, err := b.d.CheckShelf("A2", []string{label(packs[0]), label(packs[0]), label(packs[2]), label(packs[3]), label(packs[4]), "NDV-A9999-X"})
	b.check(err)
	if len(c.Here) != 2 || len(c.Wrong) != 2 || len(c.Missing) != 1 || c.Missing[0].ID != packs[1] || len(c.Unknown) != 1 {
		t.Fatalf("here %d, wrong %d, missing %d, unknown %d", len(c.Here), len(c.Wrong), len(c.Missing), len(c.Unknown))
	}
	b.check(b.d.SaveShelf(c))
	view := func(i int) work.PackView { p, err := b.d.Pack(packs[i]); b.check(err); return p }
	if p := view(2); p.Where() != model.MoveStored || p.Moves[len(p.Moves)-1].To != "A2" {
		t.Error("a pack found at the place is not stored there")
	}
	if !view(1).NotFound || view(0).NotFound {
		t.Error("the missing one is not marked, or the found one is")
	}
	if view(3).State != work.ShelfSpoilt || !view(4).Out() {
		t.Error("lying on the shelf made a torn pack good, or brought one back that is out")
	}
	if c, err = b.d.CheckShelf("A2", nil); err != nil || len(c.Missing) != 2 { // those that lie there; the one that is missing already is not missed twice
		t.Errorf("%d missing, %v", len(c.Missing), err)
	}
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	if view(1).NotFound {
		t.Error("it turned up, and is still missing")
	}
	b.check(b.d.Stop(cycle, "test"))
	if c, err = b.d.CheckShelf("A2", []string{label(packs[0])}); err != nil || len(c.Wrong) != 1 || len(c.Here) != 0 {
		t.Error("a held pack lies among the good ones, and nobody is told")
	}
	b.clk.Pass(time.Hour)
}
