package work_test

import (
	"slices"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// A pot that is new here releases nothing before three good cycles with a witness from inside a pack; the loads run meanwhile wait, and are then free.
func TestANewPotIsProvenFirst(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 3, Source: "test"}))
	has := func(g work.Gate, code string) bool { return slices.Contains(stops(g), code) }
	first, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
	if !has(g, "not-proven") || code(b.d.Release(first, "")) != "gate.not-proven" {
		t.Fatalf("the first load of a new pot: %v", stops(g))
	}
	b.cycle(demo.Burn{Packs: 1, First: 10, Strip: false})                 // its strip says no
	b.cycle(demo.Burn{Packs: 1, First: 20, Strip: true, LooksAway: true}) // not known
	b.cycle(demo.Burn{Packs: 1, First: 30, Strip: true, FireDies: true})  // failed
	if p, err := b.d.Proven(b.pot().ID); err != nil || p.Good != 1 || p.Need != 3 {
		t.Fatalf("%+v %v", p, err)
	}
	trial, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil) // empty, with the test pack only
	b.check(err)
	c, err := b.d.Cycle(trial)
	b.check(err)
	if !c.Trial() || !c.Settled() {
		t.Error("a finished trial waits for a release that cannot be")
	}
	if g, err := b.d.Gate(first); err != nil || !has(g, "not-proven") {
		t.Fatalf("two of three are enough: %v %v", stops(g), err)
	}
	b.cycle(demo.Burn{Packs: 1, First: 40, Strip: true})
	b.check(b.d.Release(first, ""))
	if p, err := b.d.Proven(b.pot().ID); err != nil || !p.Done() {
		t.Errorf("%+v %v", p, err)
	}
}

// Practice cycles prove no pot. (The practice pot's own desk never releases; a cycle marked so may come by another way.)
func TestTodaySaysThatAPotIsNew(t *testing.T) {
	b := desk(t)
	line := func() bool {
		ls, err := b.d.Today()
		b.check(err)
		return slices.ContainsFunc(ls, func(l work.Line) bool { return l.Code == "commission" })
	}
	if line() {
		t.Error("the policy is off, and Today asks for it")
	}
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 1, Source: "test"}))
	if !line() {
		t.Error("Today does not say that the pot is new")
	}
	b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
	if line() {
		t.Error("a proven pot is still called new")
	}
}
