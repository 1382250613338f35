package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

func (b *bench) task(code model.CareTask) work.Task {
	b.t.Helper()
	all, err := b.d.Care(b.pot())
	b.check(err)
	for _, t := range all {
		if t.Code == code {
			return t
		}
	}
	b.t.Fatalf("no task %s", code)
	return work.Task{}
}

// A task falls due its days after it was done; valve and gauge are done by their own tests; a part is taken off the stock.
func TestCareFallsDue(t *testing.T) {
	b := desk(t)
	if x := b.task(model.CareSeal); x.Ever || x.Due() || x.Every != 30 {
		t.Errorf("%+v", x)
	}
	b.check(b.d.TellStock(model.StockSeals, 3, true))
	b.check(b.d.CareDone(b.pot(), model.CareSeal, model.StockSeals, "hard"))
	if left := b.item(model.StockSeals).Left; left != 2 {
		t.Errorf("%d seals left of 3 after one was changed", left)
	}
	b.clk.Pass(30 * 24 * time.Hour)
	if x := b.task(model.CareSeal); x.Due() || x.Left != 0 {
		t.Errorf("on its day: %+v", x)
	}
	b.clk.Pass(24 * time.Hour)
	if x := b.task(model.CareSeal); !x.Due() || x.Left != -1 {
		t.Errorf("a day late: %+v", x)
	}
	ls, err := b.d.Today()
	b.check(err)
	if !slices.ContainsFunc(ls, func(l work.Line) bool { return l.Code == "care-due" && l.Args[0] == "seal" }) {
		t.Error("Today does not say it")
	}
	b.check(b.d.LiftValve(b.pot(), true, 165_000))
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	if !b.task(model.CareValve).Ever || !b.task(model.CareGauge).Ever {
		t.Error("the tests of valve and gauge do not count")
	}
	for _, own := range []model.CareTask{model.CareValve, model.CareGauge, "polish"} {
		if code(b.d.CareDone(b.pot(), own, "", "")) != "care-task" {
			t.Errorf("%s was ticked without its test", own)
		}
	}
}

// With the date in doubt nothing is called overdue, and nothing in order.
func TestCareInDoubt(t *testing.T) {
	b := desk(t)
	b.check(b.d.CareDone(b.pot(), model.CareSeal, "", ""))
	b.d.Close()
	b.clk.Reboot(-10 * 365 * 24 * time.Hour)
	b.open()
	if x := b.task(model.CareSeal); x.Known || x.Due() {
		t.Errorf("%+v", x)
	}
}

// Case 37: a pot that boiled dry is not lit again before its seal and plug were looked at.
func TestCase037BoiledDryIsLookedAtFirst(t *testing.T) {
	b := desk(t)
	b.check(b.d.CareDone(b.pot(), model.CareSeal, "", "")) // before: does not count
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	light := func() string {
		_, _, err := b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
		return code(err)
	}
	for _, todo := range []model.CareTask{model.CareSeal, model.CarePlug} {
		if got := light(); got != "care-first" {
			t.Fatalf("before %s was looked at: %q", todo, got)
		}
		b.check(b.d.CareDone(b.pot(), todo, "", ""))
	}
	if got := light(); got != "" {
		t.Errorf("looked at, and refused: %s", got)
	}
}

// No policy lets a pot off that boiled dry.
func TestAPolicyDoesNotLetADryPotOff(t *testing.T) {
	b := desk(t)
	for _, task := range []model.CareTask{model.CareSeal, model.CarePlug} {
		b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCare(task), Source: "test"}))
	}
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	_, _, err := b.d.Begin(b.pot(), b.place().Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600})
	if code(err) != "care-first" {
		t.Errorf("%v", err)
	}
}
