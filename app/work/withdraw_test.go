package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// latest is the comparison of the pot's gauge that was made last.
func (b *bench) latest() work.Comparison {
	b.t.Helper()
	all, err := b.d.Comparisons(b.pot())
	b.check(err)
	if len(all) == 0 {
		b.t.Fatal("no comparison")
	}
	return all[0]
}

func (b *bench) word(pack model.ID) register.Word {
	b.t.Helper()
	a, err := b.d.Usable(pack)
	b.check(err)
	return a.Word
}

// A comparison whose figures were of another gauge is taken back: the loads that it put in doubt stay so until somebody looks back, then have the verdict of their day; both stay readable.
func TestWithdrawnComparisonTurnsBackOnlyThroughAClear(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	packs, cycle := b.heldAt(131_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(high...)
	wrong := b.latest()
	if got := b.word(packs[0]); got != register.Held {
		t.Fatalf("in doubt by twelve: %s", got)
	}
	if doubt, err := b.d.InDoubt(b.pot().ID); err != nil || len(doubt) != 1 || doubt[0].Stands {
		t.Fatalf("%v %v", doubt, err)
	}
	if got := code(b.d.Withdraw(b.pot(), wrong.ID, " ")); got != "reason-missing" {
		t.Errorf("without a reason: %q", got)
	}
	if got := code(b.d.Withdraw(b.pot(), wrong.ID, "figures of the other pot's gauge")); got != "withdraw-alone" {
		t.Errorf("nothing else counts: %q", got)
	}
	b.compare(right...)
	if doubt, err := b.d.InDoubt(b.pot().ID); err != nil || len(doubt) != 1 || doubt[0].Stands {
		t.Fatalf("compared again, and nobody took the wrong one back: %v %v", doubt, err)
	}
	b.check(b.d.Withdraw(b.pot(), wrong.ID, "figures of the other pot's gauge"))
	if got := b.word(packs[0]); got != register.Held {
		t.Fatalf("taken back, and the pack is %s before anybody looked back", got)
	}
	doubt, err := b.d.InDoubt(b.pot().ID)
	b.check(err)
	if len(doubt) != 1 || !doubt[0].Stands || doubt[0].Now.Verdict != model.Shown || doubt[0].Causes[0].Code != "withdrawn" {
		t.Fatalf("%+v", doubt)
	}
	came, err := b.d.SettleDoubt(b.pot().ID, "the comparison was of another gauge")
	b.check(err)
	if came.Stood != 1 || came.Called != 0 || b.word(packs[0]) != register.Usable {
		t.Errorf("%+v, the pack is %s", came, b.word(packs[0]))
	}
	all, err := b.d.Comparisons(b.pot())
	b.check(err)
	if x := all[1]; x.ID != wrong.ID || !x.Gone || x.Counts || x.Reason != "figures of the other pot's gauge" {
		t.Errorf("its history: %+v", x)
	}
	if c, err := b.d.Cycle(cycle); err != nil || len(c.State.Holds) == 0 {
		t.Errorf("the hold is no longer told: %v", err)
	}
	if got := code(b.d.Withdraw(b.pot(), wrong.ID, "again")); got != "withdraw-again" {
		t.Errorf("twice: %q", got)
	}
}

// What was recalled by it stays recalled: taking the comparison back gives no pack back.
func TestWithdrawnComparisonGivesNoRecalledPackBack(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	packs, _ := b.heldAt(131_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(high...)
	_, err := b.d.SettleDoubt(b.pot().ID, "compared")
	b.check(err)
	wrong := b.latest().ID
	b.compare(right...)
	b.check(b.d.Withdraw(b.pot(), wrong, "wrong gauge"))
	if _, err := b.d.SettleDoubt(b.pot().ID, "taken back"); err != nil && code(err) != "nothing-to-clear" {
		t.Fatal(err)
	}
	if got := b.word(packs[0]); got == register.Usable {
		t.Error("a pack that was called back is usable again")
	}
}

// Loads that were planned by the comparison that is taken back are in doubt by the one that was made since, and judged by it; the next mark is made by it, and nothing holds the next load.
func TestWithdrawnComparisonDoubtsWhatWasPlannedByIt(t *testing.T) {
	b := atD(t)
	before := b.plan().Frozen.RestartMilli
	b.compare(work.ComparePoint{Shown: 58, True: 60}, work.ComparePoint{Shown: 128, True: 130})
	wrong := b.latest().ID
	if low := b.plan().Frozen.RestartMilli; low >= before {
		t.Fatalf("compared, the line is at %d, before at %d", low, before)
	}
	packs, _ := b.heldAt(128_500)
	b.compare(right...)
	b.check(b.d.Withdraw(b.pot(), wrong, "columns taken for each other"))
	if got := b.word(packs[0]); got != register.Held {
		t.Errorf("planned by what was taken back: %s", got)
	}
	if got := b.plan().Frozen.RestartMilli; got < before {
		t.Errorf("the line is at %d, it was at %d before any comparison", got, before)
	}
	b.falls(packs[0])
	fresh, _ := b.heldAt(b.plan().Frozen.MarkMilli)
	if got := b.word(fresh[0]); got != register.Usable {
		t.Errorf("a load lit in knowledge of it is %s", got)
	}
}

// The good comparison was made first, then the wrong one is taken back: what the good one found counts on, also for loads before the wrong one, which vouches for nothing.
func TestWithdrawnComparisonVouchesForNothing(t *testing.T) {
	b := atD(t)
	packs, _ := b.heldAt(142_000) // by class
	early := func() register.Word { return b.word(packs[0]) }
	b.compare(right...) // of another gauge: it seemed to vouch for what went before
	vouched := b.latest()
	b.clk.Pass(24 * time.Hour)
	b.compare(work.ComparePoint{Shown: 78, True: 60}, work.ComparePoint{Shown: 142, True: 124})
	if got := early(); got != register.Usable {
		t.Fatalf("vouched for by the first comparison: %s", got)
	}
	counts := b.plan().Frozen.RestartMilli
	b.check(b.d.Withdraw(b.pot(), vouched.ID, "it was the other pot's gauge"))
	if got := early(); got != register.Held {
		t.Errorf("nothing vouches for it, the gauge shows 18 too much, and the pack is %s", got)
	}
	if got := b.plan().Frozen.RestartMilli; got != counts {
		t.Errorf("the line moved from %d to %d", counts, got)
	}
	b.falls(packs[0])
}

// Who took it back was a device that is gone: the comparison counts as if nothing had been taken back, and what was cleared by that is held again.
func TestWithdrawnByADeviceThatIsGone(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	packs, _ := b.heldAt(131_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(high...)
	wrong := b.latest()
	mark := b.plan().Frozen.RestartMilli
	b.put(b.gone(83), entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}}, Replaces: []entry.ID{wrong.ID},
		Payload: model.Compared{Withdraws: wrong.ID[:], Reason: "r", Points: []model.FrozenCorrection{{AtMilli: 100_000}}, ReferenceMilli: 600, WorstPa: 600}})
	b.compare(high...) // another counts, so it is the word that does not
	b.falls(packs[0])
	if got := b.plan().Frozen.RestartMilli; got < mark {
		t.Errorf("the line fell from %d to %d", mark, got)
	}
}
