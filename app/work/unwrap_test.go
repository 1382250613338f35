package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/model"
)

// Packs of a load that was given up lie there with turned tape: they stand on Today until each is marked as unwrapped.
func TestPacksToUnwrapStandOnToday(t *testing.T) {
	b := desk(t)
	ids, numbers := b.packed(2)
	load, err := b.d.LoadOf(numbers)
	b.check(err)
	cycle, err := demo.CycleWith(b.d, b.clk, demo.Burn{StopAfter: 8}, load)
	b.check(err)
	b.check(b.d.CloseCycle(cycle, model.CycleClosed{Outcome: model.Aborted, Reason: "fuel"}))
	left := func() string {
		ls, err := b.d.Today()
		b.check(err)
		for _, l := range ls {
			if l.Code == "unwrap" && l.Cycle == cycle {
				return l.Args[1]
			}
		}
		return ""
	}
	for _, want := range []string{"2", "1"} {
		if left() != want {
			t.Fatalf("%q packs to unwrap, want %s", left(), want)
		}
		b.check(b.d.SpoilPack(ids[0], model.SpoiltOpened))
		ids = ids[1:]
	}
	if left() != "" {
		t.Error("unwrapped, and still on Today")
	}
}

// What lasts is not ordered; what does not is ordered for ninety days; what was never counted is not guessed.
func TestOrderList(t *testing.T) {
	b := desk(t)
	if n := b.item(model.StockTape).Order(); n != 0 {
		t.Errorf("never counted, and %d ordered", n)
	}
	b.check(b.d.TellStock(model.StockTape, 30, true))
	b.packed(20)
	b.clk.Pass(59 * 24 * time.Hour) // 20 in 59 days: 10.2 a month, and 10 left for 29 days
	if it := b.item(model.StockTape); it.Left != 10 || it.Order() != 31-10 {
		t.Errorf("%+v orders %d", it, it.Order())
	}
	b.check(b.d.TellStock(model.StockTape, 1, false))
	if it := b.item(model.StockTape); it.Left != 11 || it.Order() != 0 { // for 32 days: as long as an order takes
		t.Errorf("%+v orders %d", it, it.Order())
	}
	b.check(b.d.TellStock(model.StockSeals, 0, true))
	if n := b.item(model.StockSeals).Order(); n != 1 {
		t.Errorf("none left, and %d ordered", n)
	}
}
