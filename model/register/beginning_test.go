package register

import (
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// What is read of beginnings alone is what the whole cycle says of them, whatever was heard, by whom and in which order.
func TestBeginningsAreThoseOfTheWholeCycle(t *testing.T) {
	compared := 0
	for seed := range uint64(400) {
		s := newSchedule(seed)
		s.play(30, byTheRules)
		for _, x := range s.devices {
			for n := range byte(len(s.packs) + 2) {
				id := model.ID{n, 1}
				whole, ok := CycleOf(x, id)
				got, found := BeginningOf(x, id)
				want := slices.DeleteFunc(slices.Clone(whole.State.Entries), func(v entry.Verified) bool { return v.Body().Kind != model.KindCycleBegun })
				same := slices.EqualFunc(got.State.Entries, want, func(a, b entry.Verified) bool { return a.ID() == b.ID() })
				if ok != found || !same || got.Entry.ID() != whole.Entry.ID() || got.Begun.Number != whole.Begun.Number {
					t.Fatalf("seed %d, cycle %d: %v %v, %v %v", seed, n, found, ok, got.Entry.ID(), whole.Entry.ID())
				}
				if ok {
					compared++
				}
			}
		}
	}
	if compared < 1000 {
		t.Errorf("only %d cycles were compared", compared)
	}
}
