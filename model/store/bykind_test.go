package store

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// What few or many devices told of a kind, newest first, is the same as going through the whole register by hand; one that is named twice is heard once; and a register that was made
// before there was the index gets it.
func TestWhatWasToldOfAKind(t *testing.T) {
	dir := t.TempDir()
	w := found(t, dir)
	authors := []*entry.Author{w.dev}
	for n := range byte(fewStreams + 2) {
		authors = append(authors, entry.NewAuthor(key(20+n), w.dev.District))
	}
	rng := rand.New(rand.NewPCG(7, 7))
	kinds := []model.Kind{model.KindNote, model.KindIncident}
	var all []entry.Verified
	for i := range 400 {
		all = append(all, w.sign(authors[rng.IntN(len(authors))], entry.Draft{
			Kind: kinds[rng.IntN(2)], Targets: []model.Ref{{Noun: model.NounPack, ID: model.ID{byte(i), byte(i >> 8), 1}}}, Payload: map[int]int{1: i},
		}))
	}
	slices.Reverse(all)
	const gone = "DROP INDEX entry_said"
	if _, err := w.s.reg.Exec(gone); err != nil {
		t.Fatal(err)
	}
	if err := w.s.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var plan strings.Builder
	rows, err := s.reg.Query("EXPLAIN QUERY PLAN SELECT pos FROM entry WHERE kind = 1 AND stream = x'00' AND pos < 9 ORDER BY pos DESC LIMIT 3")
	if err != nil {
		t.Fatal(err)
	}
	for rows.Next() {
		var a, b, c int
		var how string
		if err := rows.Scan(&a, &b, &c, &how); err != nil {
			t.Fatal(err)
		}
		plan.WriteString(how)
	}
	rows.Close()
	if !strings.Contains(plan.String(), "entry_said") || strings.Contains(plan.String(), "TEMP") {
		t.Errorf("found by %q", plan.String())
	}
	for _, k := range kinds {
		for n := range len(authors) + 1 {
			var by []entry.Stream
			for _, a := range authors[:n] {
				by = append(by, a.Stream)
			}
			if n == 3 {
				by = append(by, by[0])
			}
			var want []entry.ID
			for _, v := range all {
				if v.Body().Kind == k && (n == 0 || slices.Contains(by, v.Body().Stream)) {
					want = append(want, v.ID())
				}
			}
			for _, limit := range []int{0, 1, 7, math.MaxInt32} {
				got, err := s.LatestOf(k, limit, by...)
				if err != nil || !slices.Equal(idsOf(got), want[:min(limit, len(want))]) {
					t.Fatalf("%d of kind %d by %d: %d (%v)", limit, k, n, len(got), err)
				}
			}
			left := len(want) / 2
			got, err := s.LatestWhile(k, func(entry.Verified) bool { left--; return left >= 0 }, by...)
			if err != nil || !slices.Equal(idsOf(got), want[:len(want)/2]) {
				t.Fatalf("half of kind %d by %d: %d (%v)", k, n, len(got), err)
			}
			got, err = s.ByKind(k, by...)
			slices.Reverse(got)
			if err != nil || !slices.Equal(idsOf(got), want) {
				t.Fatalf("all of kind %d by %d: %d (%v)", k, n, len(got), err)
			}
		}
	}
}

func idsOf(vs []entry.Verified) (out []entry.ID) {
	for _, v := range vs {
		out = append(out, v.ID())
	}
	return out
}
