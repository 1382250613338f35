package store

import (
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// Two pots of which each has two cycles of one number are two doubles, and not one of four.
func TestDoublesOfTwoPots(t *testing.T) {
	w := found(t, t.TempDir())
	for n := range byte(4) {
		pot := model.ID{2, n % 2}
		w.sign(w.dev, entry.Draft{Kind: model.KindCycleBegun, Payload: model.CycleBegun{Number: 7, Sterilizer: pot},
			Targets: []model.Ref{{Noun: model.NounCycle, ID: model.ID{n + 1, 5}}, {Noun: model.NounSterilizer, ID: pot}}})
	}
	got, err := w.s.Doubles(60)
	if err != nil || len(got) != 2 || len(got[0].Of) != 2 || len(got[1].Of) != 2 {
		t.Errorf("%+v (%v)", got, err)
	}
}
