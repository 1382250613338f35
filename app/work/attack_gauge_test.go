package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/steam"
)

// Another dial on the lid, stated under Setup, Correct: the comparison of the old one goes on, its points taken in the new dial's unit.
func TestAttackNewDialKeepsOldComparison(t *testing.T) {
	b := desk(t)
	a := demo.Answers("en")
	t.Logf("%+v", a.Gauge)
	n := a
	n.Gauge = model.GaugeLooks{Unit: "psi", SpanMilli: 30_000, LineMilli: 1000, ClassMilli: 2500}
	b.check(b.d.Correct(b.pot(), b.place(), n))
	honest := b.plan() // psi dial, nobody compared it
	a.Site = b.place().Site
	b.check(b.d.Correct(b.pot(), b.place(), a))
	f := b.good()
	f.Points = []work.ComparePoint{{Shown: 122, True: 127}, {Shown: 50, True: 53}}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	b.check(b.d.Correct(b.pot(), b.place(), n))
	got := b.plan()
	if got.Gauge.Standing == steam.Compared || got.Frozen.RestartMilli < honest.Frozen.RestartMilli {
		t.Errorf("psi dial never compared: restart %d psi/1000, mark %d; after an old kPa comparison: %s, restart %d, mark %d, refused %v, need %d Pa", honest.Frozen.RestartMilli, honest.Frozen.MarkMilli,
			got.Gauge.Standing, got.Frozen.RestartMilli, got.Frozen.MarkMilli, got.Plan.Refused, got.Frozen.NeedPa)
	}
}

// The same, a new dial of the same kind.
func TestAttackNewDialSameUnit(t *testing.T) {
	b := desk(t)
	a := demo.Answers("en")
	before := b.plan().Frozen
	f := b.good()
	f.Points = []work.ComparePoint{{Shown: 122, True: 127}, {Shown: 50, True: 53}}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	a.Gauge.SpanMilli, a.Gauge.LineMilli = 400_000, 10_000
	b.check(b.d.Correct(b.pot(), b.place(), a))
	if got := b.plan(); got.Gauge.Standing == steam.Compared {
		t.Errorf("a dial of 400 kPa that nobody compared counts as compared: restart %d (first %d)", got.Frozen.RestartMilli, before.RestartMilli)
	}
}

func TestAttackProvenWithoutTestPack(t *testing.T) {
	for _, item := range []model.Item{model.Wrapped, model.Unwrapped} {
		b := desk(t)
		b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 1, Source: "test"}))
		p := b.place()
		id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: item, Packs: []model.LoadPack{{Label: "U1", Set: "s", Tape: true}}, WaterML: 2600})
		b.check(err)
		for i, s := range []model.StepCode{model.StepLit, model.StepVentStart, model.StepVentEnd} {
			b.clk.Pass(time.Duration(3+5*i) * time.Minute)
			b.check(b.d.Step(id, s, nil))
		}
		g := b.goOn(id, 14, model.Stayed)
		if p, _ := b.d.Proven(b.pot().ID); p.Good > 0 {
			t.Errorf("%s: %+v by a load with no test pack in it", item, p)
		} else {
			t.Log(g.Result.Verdict, g.Result.Reasons)
		}
	}
}

// Waiting room: entries of which those before have not come count for the good.
func TestAttackWaitingGood(t *testing.T) {
	b := desk(t)
	a := b.other(81, true)
	packs, c := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	b.check(b.d.Stop(c, "doubt"))
	skip, err := a.Sign(entry.Draft{Kind: model.KindNote, Payload: map[int]int{1: 1}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	a.Advance(skip)
	v, err := a.Sign(entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveBack}}, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{v})
	b.check(err)
	if _, ok := lineOf(t, b, "stopped-out"); !ok {
		t.Error("a waiting 'back' takes the held pack that is on the ward off Today")
	}
	id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true, LooksAway: true})
	cy := g.Cycle
	r := model.Readings{Source: model.Live}
	for i := 1; i < len(cy.Readings); i++ {
		x, y := cy.Readings[i-1], cy.Readings[i]
		for m := x.At + 240000; m < y.At; m += 240000 {
			r.List = append(r.List, model.Reading{At: m, NeedleMilli: cy.Begun.Plan.MarkMilli, Answer: model.Stayed})
		}
	}
	a.Advance(v)
	v, err = a.Sign(entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cy.State.Ref}, Payload: r}, b.clk.Now(), model.ClockGood)
	b.check(err)
	_, err = b.d.Store.Receive([]entry.Verified{v})
	b.check(err)
	g, err = b.d.Gate(id)
	b.check(err)
	if g.Open() {
		b.check(b.d.Release(id, ""))
		t.Errorf("waiting readings open the gate: %s, then %s", g.Result.Verdict, word(b, id))
	}
}

// A pack told made twice: the shorter list lets a piece fall.
// Policies of two managing devices at once: the higher counter wins, not the stricter.
func TestAttackPoliciesAtOnce(t *testing.T) {
	b := desk(t)
	m := b.manager(83) // has seen nothing of what follows; counter far ahead
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 3, Source: "district"}))
	b.put(m, entry.Draft{Kind: model.KindPolicy, Targets: []model.Ref{model.PolicyRef(model.PolicyNotKnown)}, Payload: model.Policy{Code: model.PolicyNotKnown, On: true, Source: "old"}})
	_ = m
	r, err := b.d.Rules()
	b.check(err)
	t.Log(r.On(model.PolicyNotKnown))
}
