package register

import (
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// Two devices that heard of the same in another order hold the same, and their registers are compared by their digest.
func TestAttackFoundOutInAnotherOrder(t *testing.T) {
	for name, found := range map[string]func(*atk){
		"two comparisons of its gauge": func(x *atk) {
			for range 2 {
				x.act(x.d1, entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: model.ID{9}}}, Payload: model.Compared{WorstPa: 20_000}})
			}
		},
		"two altitudes of its site": func(x *atk) {
			for range 2 {
				x.act(x.d1, entry.Draft{Kind: model.KindSite, Targets: []model.Ref{{Noun: model.NounHeight, ID: siteB}}, Payload: model.Site{RaisedPa: 120_000}})
			}
		},
		"two strips that failed, told of without their load": func(x *atk) {
			for range 2 {
				x.act(x.d1, entry.Draft{Kind: model.KindPackOpened, Targets: []model.Ref{{Noun: model.NounPack, ID: model.ID{3}}}, Payload: model.PackOpened{Strip: model.StripNot}})
			}
		},
	} {
		t.Run("a load with "+name+" hashes alike", func(t *testing.T) {
			x := newAtk(t, true)
			cycle := model.Ref{Noun: model.NounCycle, ID: model.ID{1}}
			x.act(x.d1, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{cycle, {Noun: model.NounSterilizer, ID: model.ID{2}}, {Noun: model.NounPack, ID: model.ID{3}}},
				Payload: model.CycleBegun{Number: 1, Sterilizer: model.ID{2}, Gauge: model.ID{9}, Packs: []model.LoadPack{{ID: model.ID{3}}}, Plan: model.FrozenPlan{NeedPa: 100_000, ErrorPa: 1000}}})
			found(x)
			back := NewSet(x.br.District)
			all := slices.Clone(x.all)
			slices.Reverse(all)
			back.Add(all...)
			a, b := Of(x.set(x.br), cycle), Of(back, cycle)
			if len(a.Holds) != 2 || a.Hash() != b.Hash() {
				t.Errorf("%d and %d holds, and another hash", len(a.Holds), len(b.Holds))
			}
		})
	}
}

func TestAttackFreedByNameHolds(t *testing.T) {
	x := newAtk(t, true)
	l := x.load(x.d1, 1, true)
	x.release(x.d1, l)
	grew := x.act(x.d1, entry.Draft{Kind: model.KindSporeRead, Targets: []model.Ref{l.pot}, Payload: model.SporeRead{Grew: true}})
	free := func(by *entry.Author) {
		x.act(by, entry.Draft{Kind: model.KindClear, Targets: []model.Ref{l.cycle}, Clears: []entry.ID{entry.HoldID(grew.ID(), l.pot)},
			Relies: append(slices.Clone(x.grants[by.Stream]), grew.ID(), l.begun.ID()), Payload: model.Clear{Reason: "r"}})
	}
	word := func() Word { return IsUsable(x.set(x.br), l.p1).Word }
	free(x.cd)
	if w := word(); w != Held {
		t.Errorf("freed by another clinic: %s", w)
	}
	free(x.d1)
	if w := word(); w != Usable {
		t.Fatalf("freed by its own: %s", w)
	}
	x.act(x.d1, entry.Draft{Kind: model.KindCycleBegun, Targets: []model.Ref{{Noun: model.NounCycle, ID: model.ID{50}}, l.pot, l.p1}, Payload: model.CycleBegun{Number: 2, Sterilizer: l.pot.ID}})
	if w := word(); w != Held {
		t.Errorf("and in a second load of that pot: %s", w)
	}
	l2 := l.p2
	x.act(x.d1, entry.Draft{Kind: model.KindSporeRead, Targets: []model.Ref{l.pot}, Payload: model.SporeRead{Grew: true}})
	if w := IsUsable(x.set(x.br), l2).Word; w != Held {
		t.Errorf("after a second growth: %s", w)
	}
}
