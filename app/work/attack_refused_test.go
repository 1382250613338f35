package work_test

import (
	"testing"

	"mvuke/app/demo"
	"mvuke/model"
	"mvuke/model/entry"
)

// What an attack could use is refused outright.

// A taped pack is not said to have no tape: whether it changed must be told.
func TestNoTapeIsNotSaidOfATapedPack(t *testing.T) {
	b := desk(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 1, First: 1, Strip: true})
	b.check(err)
	checks, err := demo.GoodChecks(b.d, id)
	b.check(err)
	checks[0].TapeOK, checks[0].NoTape = false, true
	if got := code(b.d.Unload(id, checks, true)); got != "tape-was-on" {
		t.Errorf("%q", got)
	}
}

// A counter beyond any count is no entry at all, and one at half of it moves nobody: the next acts still win over what stood before.
func TestCountersDoNotRunOver(t *testing.T) {
	b := desk(t)
	a := b.other(66, false)
	a.Lamport = entry.MaxCounter
	if _, err := a.Sign(entry.Draft{Kind: model.KindNote, Payload: map[int]int{1: 1}}, b.clk.Now(), model.ClockGood); err == nil {
		t.Error("a counter beyond any count was taken")
	}
	a.Lamport = entry.MaxCounter - 2
	v, err := a.Sign(entry.Draft{Kind: model.KindNote, Payload: map[int]int{1: 1}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	b.check(b.d.Store.Append(v))
	b.check(b.d.Close())
	b.open()
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 45, Source: "test"}))
	if p := b.plan(); p.Frozen.Minutes != 45 {
		t.Errorf("a stranger's counter outweighs the district's policy: %d minutes", p.Frozen.Minutes)
	}
}

// Two altitudes told at once, far apart: no mark is made from the one that happens to be shown first, and Today says so.
func TestTwoAltitudesAtOnceGiveNoMark(t *testing.T) {
	b := desk(t)
	a := b.manager(67)
	site := b.place().Site
	site.HeightM = 900
	b.put(a, entry.Draft{Kind: model.KindSite, Targets: []model.Ref{{Noun: model.NounSite, ID: b.place().ID}}, Payload: site})
	if _, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil); code(err) != "heights-apart" {
		t.Errorf("%v", err)
	}
	if _, ok := lineOf(t, b, "heights"); !ok {
		t.Error("Today does not say it")
	}
}

// A dial that was changed for another loses its comparison: the correction of the old one says nothing of it.
func TestAnotherDialHasNoComparison(t *testing.T) {
	b := desk(t)
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	before := b.plan()
	a := demo.Answers("en")
	a.Site, a.Pot = b.place().Site, b.pot().Looks
	a.Gauge = model.GaugeLooks{Serial: "9", Unit: "psi", SpanMilli: 30_000, LineMilli: 1000, ClassMilli: 2500}
	b.check(b.d.Correct(b.pot(), b.place(), a))
	if p := b.plan(); p.Gauge.Standing == before.Gauge.Standing || len(p.Gauge.Corrections) > 0 {
		t.Errorf("%v, corrections %v", p.Gauge.Standing, p.Gauge.Corrections)
	}
}
