package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

func (b *bench) item(what model.Consumable) work.Item {
	b.t.Helper()
	items, err := b.d.Stock()
	b.check(err)
	for _, it := range items {
		if it.What == what {
			return it
		}
	}
	b.t.Fatal(what)
	return work.Item{}
}

// Use is counted from what was done since the last count; what came in is added; a later count settles it.
func TestStockIsCountedFromActs(t *testing.T) {
	b := desk(t)
	if it := b.item(model.StockStrips); it.Known || it.Days != -1 {
		t.Errorf("never counted: %+v", it)
	}
	b.sterile(2) // before the count: not taken off it
	b.check(b.d.TellStock(model.StockStrips, 20, true))
	b.sterile(3)
	if it := b.item(model.StockStrips); it.Left != 16 { // three packs and the test pack
		t.Errorf("%+v", it)
	}
	b.check(b.d.TellStock(model.StockStrips, 10, false))
	if it := b.item(model.StockStrips); it.Left != 26 || it.Days >= 0 { // one day says nothing of a month
		t.Errorf("%+v", it)
	}
	b.clk.Pass(10 * 24 * time.Hour)
	if it := b.item(model.StockStrips); it.Left != 26 || it.Days < 0 {
		t.Errorf("%+v", it)
	}
	b.check(b.d.TellStock(model.StockStrips, 2, true))
	if it := b.item(model.StockStrips); it.Left != 2 {
		t.Errorf("%+v", it)
	}
	b.sterile(3)
	if it := b.item(model.StockStrips); it.Left != 0 {
		t.Errorf("%+v", it)
	}
	if _, ok := lineOf(t, b, "stock-out"); !ok {
		t.Error("what is gone is not on Today")
	}
}

// Case 35: without tape a pack is packed with its strip, and the day counts as a day without.
func TestCase035NoTapeLeft(t *testing.T) {
	b := desk(t)
	f := packForm("cord")
	f.Tape = false
	_, _, err := b.d.MakePack(f)
	b.check(err)
	b.clk.Pass(26 * time.Hour)
	_, _, err = b.d.MakePack(f)
	b.check(err)
	if it := b.item(model.StockTape); it.OutDays != 2 {
		t.Errorf("%+v", it)
	}
	f.Strip = false
	if _, _, err := b.d.MakePack(f); code(err) != "no-indicator" {
		t.Errorf("neither tape nor strip: %v", err)
	}
}
