package store

import (
	"slices"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// What is read at many places at once comes in their order and none is lost, also when what is kept in memory is full and forgotten in the middle of it, and where some are kept and some are not.
func TestManyPlacesAtOnce(t *testing.T) {
	w := found(t, t.TempDir())
	var want []entry.ID
	var places []int64
	for i := range 40 {
		v := w.sign(w.dev, entry.Draft{Kind: []model.Kind{model.KindNote, model.KindIncident}[i%2], Targets: []model.Ref{{Noun: model.NounPack, ID: model.ID{byte(i), 1}}}, Payload: map[int]int{1: i}})
		want, places = append(want, v.ID()), append(places, w.s.places[v.ID()])
	}
	slices.Reverse(want)
	slices.Reverse(places)
	for full := range 45 {
		w.s.known, w.s.places = map[int64]entry.Verified{}, map[entry.ID]int64{}
		if _, err := w.s.entriesAt(places[:5], 0); err != nil { // kept
			t.Fatal(err)
		}
		for n := int64(-1); len(w.s.known) < mostKnown-full; n-- {
			w.s.known[n] = entry.Verified{}
		}
		got, err := w.s.entriesAt(append(slices.Clone(places), 1<<40), 0)
		if err != nil || !slices.Equal(idsOf(got), want) {
			t.Fatalf("%d short of full: %d of %d (%v)", full, len(got), len(want), err)
		}
	}
	w.s.known, w.s.places = nil, nil
	got, err := w.s.entriesAt(places, model.KindNote)
	for i, id := range want {
		is := slices.Contains(idsOf(got), id)
		if note := i%2 == 1; note != is {
			t.Errorf("%d among notes: %v", i, is)
		}
	}
	if err != nil {
		t.Error(err)
	}
}
