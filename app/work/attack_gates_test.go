package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// loads past the bound of the count, and packs that ended rejected, push the shelf out of a count. (2000 live packs.)
// the paper's way round: a pot out of service for spores, valve stuck or dry takes loads by slip and releases them.
func TestAttackSlipOnPotOut(t *testing.T) {
	b := desk(t)
	b.check(b.d.LiftValve(b.pot(), false, 0))
	if !b.pot().Out {
		t.Fatal("not out")
	}
	low := int64(130_000)
	var looks []work.SlipLook
	for m := 40.0; m <= 80; m += 4 {
		looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
	}
	_, err := b.d.TypeIn(b.pot(), b.place().Site, work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 100), WaterML: 100}, Lit: b.clk.Wall.Add(-3 * time.Hour),
		VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91})
	t.Log(err)
}

// a removed device opens a cycle in our pot: nobody can light it, at any time.
func TestAttackRemovedBlocksPot(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
	c, _ := b.d.Cycle(id)
	far := b.d.NewID()
	x := c.Begun
	x.Packs = nil
	b.put(b.gone(61), entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{cref(far), {Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: x})
	if got := code(b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 900), TestPack: true, WaterML: 2600})); got != "" {
		t.Errorf("removed, and it stops the pot: %s", got)
	}
}

// a removed device says a pot's cycle closed/zero seen: an open cycle on the fire vanishes from Today.
func TestAttackRemovedClosesLit(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 10})
	if _, ok := lineOf(t, b, "on-fire"); !ok {
		t.Fatal()
	}
	b.put(b.gone(62), entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{cref(id)}, Payload: model.CycleClosed{Outcome: model.RanThrough}})
	if _, ok := lineOf(t, b, "on-fire"); !ok {
		t.Errorf("a lit pot is off Today; a look is refused: %s", code(b.d.Look(id, 100_000, model.Stayed, 0)))
	}
}
