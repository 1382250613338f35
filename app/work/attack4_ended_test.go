package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// A strip that fails after a recall of the load was closed and the load freed.
func TestStripAfterAClosedRecall(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(3)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "label of another load?", Loads: []model.ID{cycle}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(id, ""))
	b.check(b.d.ClearHold(cref(cycle), "recalled", "the labels were right"))
	if s := b.state(packs[0]); s != work.ShelfReady {
		t.Fatal(s)
	}
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.check(b.d.OpenPack(packs[2], work.UseForm{Outside: true, Strip: model.StripNot}))
	r := b.recallOf()
	if r.Closed && !b.line("stopped-out") {
		t.Error("a strip failed: a sibling was used on somebody and one is in the maternity; no line of Today names them")
	}
}

// Stopped by hand, later, of a load of a closed recall that was freed; on the office's screen.
func TestStopAfterAClosedRecall(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(3)
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "label of another load?", Loads: []model.ID{cycle}})
	b.check(err)
	for _, p := range packs {
		b.check(b.d.SetAside(p))
	}
	b.check(b.d.CloseRecall(id, ""))
	b.check(b.d.ClearHold(cref(cycle), "recalled", "the labels were right"))
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.check(b.d.Stop(cycle, "the water was dirty"))
	if !b.line("stopped-out") {
		t.Error("not named")
	}
}

// A load in doubt, of a recall that was closed with a reason and not freed.
func TestDoubtOfAClosedRecallOnToday(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	packs, cycle := b.heldAt(131_000)
	b.check(b.d.OpenPack(packs[1], packUse()))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "label of another load", Loads: []model.ID{cycle}})
	b.check(err)
	b.check(b.d.SetAside(packs[0]))
	b.check(b.d.CloseRecall(id, "the label was right, nobody is told"))
	b.clk.Pass(24 * time.Hour)
	b.compare(high...)
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if !b.line("in-doubt") && l.Patients() {
		t.Error("the load was used on 1187 and falls; nothing on Today leads to it")
	}
}

// A growth's recall is ended with a pack missing: what was provably run before the last good test is not to be got back, and stands on no line of Today.
func TestAnEndedRecallAsksForNothingBeforeTheBadTime(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(2)
	b.check(b.d.OpenPack(early[0], packUse()))
	_, good := b.sterile(1)
	b.zneg(b.spore(good, zyear, true))
	packs, bad := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.grows(bad)
	r := b.recallOf()
	if b.line("stopped-out") {
		t.Error("while the recall is open the early load is named")
	}
	b.check(b.d.CloseRecall(r.ID, "looked for in every ward"))
	if b.line("stopped-out") {
		t.Error("after the recall has ended the early load is named: nothing speaks against it")
	}
	if s := b.state(early[1]); s != work.ShelfHeld {
		t.Errorf("its pot is stopped, and it is %s", s)
	}
	b.put(b.manager(77), entry.Draft{Kind: model.KindHold, Targets: []model.Ref{{Noun: model.NounSterilizer, ID: b.pot().ID}}, Payload: model.Hold{Code: "doubt"}})
	if !b.line("stopped-out") {
		t.Error("something else stops the pot too, and the pack that was used before is on no line")
	}
}

// What was freed by name from a growth is not offered to be freed again.
func TestFreedLoadsAreNotFreedAgain(t *testing.T) {
	b := desk(t)
	early, _ := b.sterile(1)
	_, good := b.sterile(1)
	b.zneg(b.spore(good, zyear, true))
	_, bad := b.sterile(1)
	b.grows(bad)
	r := b.recallOf()
	n, err := b.d.FreeBefore(r.ID, "no others tonight")
	if err != nil || n != 2 || b.state(early[0]) != work.ShelfReady {
		t.Fatalf("%d freed, %v, %s", n, err, b.state(early[0]))
	}
	if again, err := b.d.Freeable(r.ID); again != 0 || code(err) != "recall-none-before" {
		t.Errorf("%d more, %v", again, err)
	}
}
