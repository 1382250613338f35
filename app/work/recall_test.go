package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// recallOf is the recall that stands on Today.
func (b *bench) recallOf() work.Recall {
	b.t.Helper()
	all, err := b.d.Recalls()
	b.check(err)
	if len(all) == 0 {
		b.t.Fatal("nothing is called back")
	}
	return all[0]
}

// Case 51 (common practice; CDC dental guidance on positive spore tests): last valid negative in cycle 212, growth in 231, read after 234. Everything not provably before 212 is
// called back: 22 loads of 5 packs, and the sum is 110 wherever they went. The numbers of the cycles are smaller here; their distances are the case's.
func TestCase051RecallOfTheWindow(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	before, _ := b.sterile(5) // a load of before
	_, good := b.sterile(5)
	b.zneg(b.spore(good, zyear, true))
	var packs []model.ID
	var grew model.ID
	for i := range 22 {
		ids, cycle := b.sterile(5)
		packs = append(packs, ids...)
		if i == 18 {
			grew = b.spore(cycle, zyear, true)
		}
		b.clk.Pass(7 * time.Hour)
	}
	for i, id := range packs { // 61 used, 14 issued, 4 sent to Clinic C, 31 on the shelf
		switch {
		case i < 61:
			b.check(b.d.OpenPack(id, work.UseForm{Outside: true, Strip: model.StripReached, Number: "1001", Anyway: b.state(id) == work.ShelfExpired}))
		case i < 75:
			b.check(b.d.MovePack(id, model.PackMoved{What: model.MoveIssued, To: "maternity"}))
		case i < 79:
			b.check(b.d.MovePack(id, model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
		}
	}
	said, err := b.d.ReadSpore(grew, model.SporeRead{Grew: true})
	b.check(err)
	r := b.recallOf()
	if said != model.SporePositive || !r.Wide || r.After != 2 || len(r.Loads) != 22 || r.Loads[0].Number != 3 || r.Loads[21].Number != 24 || !r.Loads[18].Test {
		t.Fatalf("leans on cycle %d, %d loads", r.After, len(r.Loads))
	}
	want := map[work.Whereabouts]int{work.AtUsed: 61, work.AtShelf: 31, work.AtIssued: 14, work.AtElsewhere: 4}
	sum := 0
	for at, n := range r.Sum {
		if sum += n; want[at] != n {
			t.Errorf("%d are %s, not %d", n, at, want[at])
		}
	}
	if sum != 110 || r.Total != 110 || r.Untold != 61 || r.Found != 0 {
		t.Errorf("%d packs, %d found, nobody told of %d", sum, r.Found, r.Untold)
	}
	for _, id := range packs[61:] {
		if s := b.state(id); s != work.ShelfHeld {
			t.Fatalf("a pack that is called back is %s", s)
		}
	}
	if r.Square(before[0]) != nil {
		t.Error("a load that was provably before the negative is called back")
	}

	// the other clinic answers by stick; what is left needs a reason
	x.carry(b, x.office)
	x.carry(x.office, c)
	for _, id := range packs[75:79] {
		c.check(c.d.SetAside(id))
	}
	x.carry(c, x.office)
	x.carry(x.office, b)
	for _, id := range packs[79:] {
		b.check(b.d.SetAside(id))
	}
	b.check(b.d.TellRecall(r.ID, model.SoughtSeen, packs[61:74], "maternity"))
	b.check(b.d.TellRecall(r.ID, model.SoughtLost, packs[74:75], ""))
	if got := code(b.d.CloseRecall(r.ID, "")); got != "recall-left" {
		t.Errorf("closed with a pack not found and nobody told: %q", got)
	}
	if got := code(b.d.TellRecall(r.ID, model.SoughtClinician, packs[:61], "")); got != "recall-told-whom" {
		t.Errorf("told nobody: %q", got)
	}
	b.check(b.d.TellRecall(r.ID, model.SoughtClinician, packs[:61], "clinical officer on duty"))
	r = b.recallOf()
	if r.Found != 109 || r.Sum[work.AtLost] != 1 || r.Sum[work.AtAside] != 35 || r.Untold != 0 || r.Total != 110 {
		t.Errorf("%d of %d found, nobody told of %d; %v", r.Found, r.Total, r.Untold, r.Sum)
	}
	b.check(b.d.CloseRecall(r.ID, "one dressing pack: burnt with the waste, says the ward"))
	if r = b.recallOf(); !r.Closed || r.Ended == "" {
		t.Error("it is not closed")
	}
	x.carry(b, x.office) // and the office sees it so
	if all, err := x.office.d.Recalls(); err != nil || len(all) != 1 || !all[0].Closed || all[0].Total != 110 || all[0].Sum[work.AtUsed] != 61 {
		t.Errorf("the office sees %d %v", len(all), err)
	}
	if _, ok := lineOf(t, b.bench, "recall"); ok {
		t.Error("a closed recall waits on Today")
	}
}

// A load that is told of after a recall was closed opens it again: nobody looked for its packs.
func TestALateLoadOpensARecallAgain(t *testing.T) {
	b := desk(t)
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	packs, cycle := b.sterile(2)
	_, err := b.d.ReadSpore(b.spore(cycle, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	r := b.recallOf()
	for _, id := range packs {
		b.check(b.d.SetAside(id))
	}
	b.check(b.d.CloseRecall(r.ID, ""))
	late, _ := b.slip(b.clk.Wall.Add(-20*time.Hour), 1)
	if r = b.recallOf(); r.Closed || r.Total != 3 || r.Square(late) == nil {
		t.Errorf("closed %v with %d packs", r.Closed, r.Total)
	}
}

// By the other policy one growth calls its own load back and stops the pot; a second one calls back all since the last valid negative (CDC 2008, restated).
func TestCase053NarrowUntilASecondGrowth(t *testing.T) {
	b := desk(t)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	between, _ := b.sterile(1)
	_, cycle := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(cycle, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	if r := b.recallOf(); r.Wide || len(r.Loads) != 1 || r.Square(between[0]) != nil || b.state(between[0]) != work.ShelfHeld {
		t.Fatalf("wide %v, %d loads; the load between is %s", r.Wide, len(r.Loads), b.state(between[0]))
	}
	_, err = b.d.ReadSpore(b.spore(b.ztrial(), zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	all, err := b.d.Recalls()
	b.check(err)
	if len(all) != 1 || !all[0].Wide || all[0].Square(between[0]) == nil {
		t.Errorf("%d recalls after the second growth, wide %v", len(all), all[0].Wide)
	}
}

// Case 71: a strip fails at the bedside; its siblings are held at once, and one press calls the load back.
func TestCase071StripAtTheBedside(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(6)
	other, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNot}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallStrip, Cause: cycle, Loads: []model.ID{cycle}})
	b.check(err)
	r, err := b.d.Recall(id)
	b.check(err)
	if r.Total != 6 || r.Sum[work.AtEnded] != 1 || r.Sum[work.AtShelf] != 5 || r.Wide || b.state(other[0]) != work.ShelfReady {
		t.Fatalf("%v; another load is %s", r.Sum, b.state(other[0]))
	}
	b.check(b.d.ClearHold(model.Ref{Noun: model.NounCycle, ID: cycle}, "strip-failed", "the strip was old"))
	if s := b.state(packs[1]); s != work.ShelfHeld {
		t.Errorf("the strip is answered, the recall is not, and a pack is %s", s)
	}
	b.check(b.d.WidenRecall(id, "two more strips failed"))
	if r, _ = b.d.Recall(id); !r.Wide || r.Total != 7 || b.state(other[0]) != work.ShelfHeld {
		t.Errorf("widened: %d packs, another load is %s", r.Total, b.state(other[0]))
	}
}

// A drill changes nothing but its own list, and measures how long it took.
func TestADrillHoldsNothing(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(2)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "drill of the month", Loads: []model.ID{cycle}, Drill: true})
	b.check(err)
	if b.state(packs[0]) != work.ShelfReady {
		t.Fatal("a drill stopped a pack")
	}
	b.clk.Pass(25 * time.Minute)
	b.check(b.d.TellRecall(id, model.SoughtSeen, packs, ""))
	b.check(b.d.CloseRecall(id, ""))
	r, err := b.d.Recall(id)
	b.check(err)
	if !r.Closed || !r.Drill || r.Took != 25*time.Minute || b.state(packs[0]) != work.ShelfReady {
		t.Errorf("closed %v after %v", r.Closed, r.Took)
	}
	if got := code(b.d.ClearHold(model.Ref{Noun: model.NounCycle, ID: cycle}, "recalled", "x")); got != "nothing-to-clear" {
		t.Error("a drill left a hold", got)
	}
}

// Loads provably before the last good test are where sterile packs come from meanwhile: somebody in charge frees them by name, and no other.
func TestLoadsBeforeTheGoodTestAreFreedByName(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(1)
	good, cycle := b.sterile(1)
	b.zneg(b.spore(cycle, zyear, true))
	bad, grew := b.sterile(2)
	_, err := b.d.ReadSpore(b.spore(grew, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	r := b.recallOf()
	if b.state(early[0]) != work.ShelfHeld {
		t.Fatal("the pot is stopped, and a pack of it is", b.state(early[0]))
	}
	if _, err := b.d.FreeBefore(r.ID, " "); code(err) != "reason-missing" {
		t.Error(err)
	}
	n, err := b.d.FreeBefore(r.ID, "no other sterile packs tonight")
	b.check(err)
	if n != 2 || b.state(early[0]) != work.ShelfReady || b.state(good[0]) != work.ShelfReady || b.state(bad[0]) != work.ShelfHeld || !b.pot().Out {
		t.Fatalf("%d freed; early %s, good %s, bad %s, pot out %v", n, b.state(early[0]), b.state(good[0]), b.state(bad[0]), b.pot().Out)
	}
	second := b.spore(cycle, zyear, true) // and a growth of the good cycle itself holds them again
	_, err = b.d.ReadSpore(second, model.SporeRead{Grew: true})
	b.check(err)
	if b.state(early[0]) != work.ShelfHeld || b.state(good[0]) != work.ShelfHeld {
		t.Errorf("after a second growth: early %s, good %s", b.state(early[0]), b.state(good[0]))
	}
	if _, err := b.d.FreeBefore(r.ID, "again"); code(err) != "recall-none-before" {
		t.Error("freed before a growth with no good test before it:", err)
	}
}
