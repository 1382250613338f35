package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// a second first-entry of the same cycle by a record-only device, sorted first, lowers the restart line of a load that failed.
func TestAttackBegunTwiceLowersTheLine(t *testing.T) {
	b := desk(t)
	id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true, FireDies: true})
	if g.Result.Verdict != model.Failed {
		t.Fatal(g.Result.Verdict)
	}
	x := g.Cycle.Begun
	x.Plan.RestartMilli /= 2
	x.Plan.NeedPa /= 2
	x.Plan.DoseMilli = 0
	a := b.other(51, true)
	a.Lamport = 0
	b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: g.Cycle.Entry.Body().Refs(), Payload: x})
	g, err := b.d.Gate(id)
	b.check(err)
	err = b.d.Release(id, "")
	if err == nil {
		t.Errorf("failed, now %s; released: %s", g.Result.Verdict, word(b, id))
	} else {
		t.Log(g.Result.Verdict, err)
	}
}

// a cycle of another device with a plan for sea level at this pot is judged by that plan here.
func TestAttackForeignPlanForSeaLevel(t *testing.T) {
	b := desk(t)
	p := b.pot()
	site := b.place().Site
	site.HeightM = 0
	low, err := b.d.Plan(p, site, model.Wrapped, nil)
	b.check(err)
	here := b.plan().Frozen
	f := low.Frozen
	t.Log(here.RestartMilli, f.RestartMilli)
	a := b.other(52, true)
	cyc, pk := b.d.NewID(), b.d.NewID()
	ref := []model.Ref{{Noun: model.NounCycle, ID: cyc}}
	b.put(a, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{ref[0], {Noun: model.NounSterilizer, ID: p.ID}, pref(pk)},
		Payload: model.CycleBegun{Number: 1, Sterilizer: p.ID, Gauge: p.Looks.Gauge, Item: model.Wrapped, TestPack: true, Plan: f, Source: model.Live, Begun: b.clk.Wall.UnixMilli(),
			Packs: []model.LoadPack{{ID: pk, Label: "Q1", Tape: true, Strip: true}}}})
	step := func(c model.StepCode, m int64) {
		b.put(a, entry.Draft{Kind: model.KindStep, Targets: ref, Payload: model.Step{Code: c, At: m * 60000, Source: model.Live}})
	}
	step(model.StepLit, 1)
	step(model.StepVentStart, 15)
	step(model.StepVentEnd, 27)
	r := model.Readings{Source: model.Live}
	for m := int64(30); m <= 75; m += 3 {
		r.List = append(r.List, model.Reading{At: m * 60000, NeedleMilli: f.MarkMilli, Answer: model.Stayed})
	}
	b.put(a, entry.Draft{Kind: model.KindReadings, Targets: ref, Payload: r})
	step(model.StepZero, 90)
	step(model.StepOpened, 95)
	b.put(a, entry.Draft{Kind: model.KindCycleClosed, Targets: ref, Payload: model.CycleClosed{Outcome: model.RanThrough, At: 96 * 60000}})
	b.put(a, entry.Draft{Kind: model.KindWitness, Targets: ref, Payload: model.Witness{Kind: model.WitnessStrip, Reached: true}})
	b.clk.Pass(2 * time.Hour)
	checks, err := demo.GoodChecks(b.d, cyc)
	b.check(err)
	b.check(b.d.Unload(cyc, checks, true))
	g, err := b.d.Gate(cyc)
	b.check(err)
	t.Log(f.MarkMilli, here.RestartMilli, g.Result.Verdict, stops(g), g.Result.Reasons)
	if f.MarkMilli < here.RestartMilli && g.Open() {
		b.check(b.d.Release(cyc, ""))
		t.Errorf("needle at %d all the time, restart line here %d: %s, %s", f.MarkMilli, here.RestartMilli, g.Result.Verdict, b.state(pk))
	}
}

// what a removed device says after its removal is good news here
func TestAttackRemovedDeviceFillsTheGap(t *testing.T) {
	b := desk(t)
	a := b.other(53, true)
	b.remove(a)
	id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true, LooksAway: true})
	if g.Open() {
		t.Fatal("open")
	}
	c := g.Cycle
	r := model.Readings{Source: model.Live}
	for i := 1; i < len(c.Readings); i++ {
		x, y := c.Readings[i-1], c.Readings[i]
		for m := x.At + 240000; m < y.At; m += 240000 {
			r.List = append(r.List, model.Reading{At: m, NeedleMilli: c.Begun.Plan.MarkMilli, Answer: model.Stayed})
		}
	}
	b.put(a, entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{c.State.Ref}, Payload: r})
	was := g.Result.Verdict
	g, err := b.d.Gate(id)
	b.check(err)
	if g.Open() {
		b.check(b.d.Release(id, ""))
		t.Errorf("%s; a removed device adds readings: %s, %s", was, g.Result.Verdict, word(b, id))
	}
}

func TestAttackRemovedDeviceWitnesses(t *testing.T) {
	b := desk(t)
	a := b.other(54, true)
	b.remove(a)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 1, First: 1, StopAfter: 40})
	b.check(err)
	zero := int64(0)
	for _, code := range []model.StepCode{model.StepFireDrawn, model.StepSteamOut, model.StepZero, model.StepOpened, model.StepDried, model.StepCooled} {
		b.clk.Pass(5 * time.Minute)
		b.check(b.d.Step(id, code, &zero))
	}
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.RanThrough}))
	checks, _ := demo.GoodChecks(b.d, id)
	b.check(b.d.Unload(id, checks, true))
	g, _ := b.d.Gate(id)
	t.Log(g.Result.Verdict, stops(g))
	ref := []model.Ref{{Noun: model.NounCycle, ID: id}}
	b.put(a, entry.Draft{Kind: model.KindWitness, Targets: ref, Payload: model.Witness{Kind: model.WitnessStrip, Reached: true}})
	if b.d.Release(id, "") == nil {
		t.Errorf("nobody here opened the test pack, a removed device says it was good: %s", word(b, id))
	}
}

func TestAttackRemovedDeviceCaresForADryPot(t *testing.T) {
	b := desk(t)
	a := b.other(55, true)
	b.remove(a)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	for _, x := range []model.CareTask{model.CareSeal, model.CarePlug} {
		b.put(a, entry.Draft{Kind: model.KindCareDone, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.CareDone{Task: x}})
	}
	if b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600}) == nil {
		t.Error("lit after boiling dry on the word of a removed device")
	}
}

// care done before the pot boiled dry, on a device with a higher counter, counts as done after
func TestAttackCareBeforeDryByCounter(t *testing.T) {
	b := desk(t)
	a := b.other(56, true)
	for _, x := range []model.CareTask{model.CareSeal, model.CarePlug} {
		b.put(a, entry.Draft{Kind: model.KindCareDone, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.CareDone{Task: x, At: b.clk.Wall.UnixMilli()}})
	}
	b.clk.Pass(24 * time.Hour)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	if b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600}) == nil {
		t.Error("care of the day before, by another device with a higher counter, counts as care after the pot boiled dry")
	}
}

// closed twice: the second closing hides that it boiled dry
func TestAttackClosedTwiceHidesDry(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	a := b.other(57, true)
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "dry", BoiledDry: true}))
	b.put(a, entry.Draft{Kind: model.KindCycleClosed, Targets: []model.Ref{{Noun: model.NounCycle, ID: id}}, Payload: model.CycleClosed{Outcome: model.Aborted, Reason: "x"}})
	if b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 50), TestPack: true, WaterML: 2600}) == nil {
		t.Error("lit: a second closing without the word 'dry' took the first one's place")
	}
}

func TestAttackRemovedDeviceFindsThePiece(t *testing.T) {
	b := desk(t)
	a := b.other(58, true)
	b.remove(a)
	packs, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 6}))
	b.put(a, entry.Draft{Kind: model.KindSetCounted, Targets: []model.Ref{pref(packs[0])}, Payload: model.SetCounted{Pack: packs[0], Present: 6, Listed: 6}})
	if _, ok := lineOf(t, b, "piece-missing"); !ok {
		t.Error("a removed device says that the piece is there, and Today forgot it")
	}
}

func TestAttackRemovedDeviceProvesSpores(t *testing.T) {
	b := desk(t)
	a := b.other(59, true)
	b.remove(a)
	_, c := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(c, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	for range 3 {
		cyc := b.ztrial()
		test := b.d.NewID()
		f := model.SporePlaced{Cycle: cyc, Pot: b.pot().ID, Lot: "L", Expires: 1 << 50, Control: true, At: 1}
		b.put(a, entry.Draft{Kind: model.KindSporePlaced, Targets: []model.Ref{{Noun: model.NounTest, ID: test}}, Payload: f})
		b.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: []model.Ref{{Noun: model.NounTest, ID: test}}, Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: 1 << 45}})
	}
	if b.d.BackToService(b.pot(), "spore-grew", "x") == nil {
		t.Error("three negatives by a removed device brought the pot back")
	}
}

func TestAttackRemovedDeviceBringsPackBack(t *testing.T) {
	b := desk(t)
	a := b.other(60, true)
	b.remove(a)
	packs, c := b.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "ward"}))
	b.check(b.d.Stop(c, "doubt"))
	if _, ok := lineOf(t, b, "stopped-out"); !ok {
		t.Fatal("no line")
	}
	b.put(a, entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveBack}})
	if _, ok := lineOf(t, b, "stopped-out"); !ok {
		t.Error("a removed device says that the pack is back, and Today no longer looks for it")
	}
}

// a reference gauge is made better, and its check put off, by a device that may only record
func TestAttackRecordOnlyMovesReference(t *testing.T) {
	b := desk(t)
	f := b.good()
	_, err := b.d.SaveReference(f.With, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 6000, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	b.check(err)
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	before := b.plan().Frozen
	b.clk.Pass(40 * 24 * time.Hour)
	if code(b.d.Compare(b.pot(), b.place().Site, f)) != "reference-overdue" {
		t.Fatal()
	}
	a := b.other(61, true)
	b.put(a, entry.Draft{Kind: model.KindReference, Targets: []model.Ref{{Noun: model.NounReference, ID: f.With}},
		Payload: model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 50, Certificate: "C-1", Due: 1 << 50}})
	if err := b.d.Compare(b.pot(), b.place().Site, f); err == nil {
		t.Errorf("compared with an overdue reference; mark %d is now %d", before.MarkMilli, b.plan().Frozen.MarkMilli)
	}
}

// a card that nobody here printed hides that the one on the wall no longer holds
func TestAttackUnknownCardHidesTheOldOne(t *testing.T) {
	b := desk(t)
	_, _, err := b.d.MakeCard(b.pot(), b.place().Site, model.Wrapped)
	b.check(err)
	_, err = b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: 2200})
	b.check(err)
	if _, old, _ := b.d.CardStale(b.pot(), b.place().Site); !old {
		t.Fatal("not stale")
	}
	a := b.other(62, false)
	b.put(a, entry.Draft{Kind: model.KindCardMade, Payload: model.CardMade{Number: 99, Sterilizer: b.pot().ID, Item: model.Wrapped, Plan: b.plan().Frozen, VoidAfter: 1 << 50}})
	if _, old, _ := b.d.CardStale(b.pot(), b.place().Site); !old {
		t.Error("a never certified device says that a newer card hangs there: the old mark on the wall is no longer told")
	}
}

// two managing devices state the altitude at once: the mark follows the counter, nobody is told
func TestAttackUnknownPotStopsToday(t *testing.T) {
	b := desk(t)
	a := b.other(64, false)
	b.put(a, entry.Draft{Kind: model.KindSterilizer, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.d.NewID()}}, Payload: model.Sterilizer{Name: "x"}})
	ls, err := b.d.Today()
	if err != nil || len(b.place().Pots) != 1 {
		t.Errorf("%v; %d pots by the word of a never certified device; %+v", err, len(b.place().Pots), ls)
	}
	if r, err := b.d.Store.Check(func(int64, int64) {}); err != nil || !r.OK() {
		t.Error(r, err)
	}
}
