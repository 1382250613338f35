package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Loads are called back for a comparison that was written wrongly. Once it is taken back, those that stand by the one that counts are freed from the recall by name, one act, and the recall can end; one that falls by it stays.
func TestLoadsThatStandAreFreedFromTheirRecall(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(time.Hour)
	packs, _ := b.heldAt(131_000)
	used, _ := b.heldAt(131_000)
	b.check(b.d.OpenPack(used[0], work.UseForm{Outside: true, Strip: "reached", Number: "1187"}))
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	if came.Called != 2 {
		t.Fatalf("%+v", came)
	}
	if _, stopped, doubted, err := b.d.Store.LoadsAt(b.place().ID); err != nil || stopped != 2 || doubted != 0 {
		t.Errorf("called back: %d stopped, %d to be looked back on, %v", stopped, doubted, err)
	}
	r := b.recallOf()
	if n, err := b.d.StandingOf(r); n != 0 || err != nil {
		t.Errorf("by the comparison that counts none stands: %d, %v", n, err)
	}
	if _, err := b.d.FreeStanding(r.ID, "no others tonight"); code(err) != "recall-none-stands" {
		t.Errorf("freed: %v", err)
	}
	wrong := b.told()[0]
	b.clk.Pass(24 * time.Hour)
	b.compare(rightAt...)
	b.check(b.d.Withdraw(b.pot(), wrong, "of another gauge"))
	if n, err := b.d.StandingOf(r); n != 2 || err != nil {
		t.Errorf("by the comparison that counts both stand: %d, %v", n, err)
	}
	if _, err := b.d.FreeStanding(r.ID, " "); code(err) != "reason-missing" {
		t.Errorf("freed without a reason: %v", err)
	}
	if w := b.word(packs[0]); w != register.Held {
		t.Errorf("before anybody freed it: %s", w)
	}
	n, err := b.d.FreeStanding(r.ID, "the comparison was of another gauge")
	b.check(err)
	if w := b.word(packs[0]); n != 2 || w != register.Usable {
		t.Errorf("%d freed, and its pack is %s", n, w)
	}
	if r = b.recallOf(); r.Found != r.Total || r.Untold != 0 || len(r.Loads) != 2 || !r.Loads[0].Freed {
		t.Errorf("%d of %d accounted for, %d untold", r.Found, r.Total, r.Untold)
	}
	b.check(b.d.CloseRecall(r.ID, ""))
	if b.line("recall") || b.line("in-doubt") {
		t.Error("Today still asks")
	}
}

// What a person called back for something else is not freed by what is known of the gauge: a recall that was widened by hand, or opened by hand for a gauge that fell.
func TestWhatAPersonCalledBackIsNotFreedByTheGauge(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(time.Hour)
	packs, load := b.heldAt(136_000)
	b.clk.Pass(24 * time.Hour)
	byHand, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallGauge, Pot: b.pot().ID, Loads: []model.ID{load}, Reason: "the gauge fell on the floor"})
	b.check(err)
	low, _ := b.heldAt(131_000)
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	_, err = b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	all, err := b.d.Recalls()
	b.check(err)
	wrong := b.told()[0]
	b.clk.Pass(24 * time.Hour)
	b.compare(rightAt...)
	b.check(b.d.Withdraw(b.pot(), wrong, "of another gauge"))
	for _, r := range all {
		n, err := b.d.StandingOf(r)
		b.check(err)
		switch {
		case r.ID == byHand && n != 0:
			t.Errorf("%d loads of a recall by hand would be freed by the gauge", n)
		case r.ID != byHand && n != 1:
			t.Errorf("%d loads of the look-back would be freed, of 1", n)
		}
	}
	for _, r := range all {
		if r.ID == byHand {
			continue
		}
		b.check(b.d.WidenRecall(r.ID, "the strips of that week were damp"))
		r, err = b.d.Recall(r.ID)
		b.check(err)
		if n, err := b.d.StandingOf(r); n != 0 || err != nil {
			t.Errorf("widened by hand: %d loads would be freed by the gauge, %v", n, err)
		}
	}
	for _, p := range []model.ID{packs[0], low[0]} {
		if w := b.word(p); w != register.Held {
			t.Errorf("%s", w)
		}
	}
}
