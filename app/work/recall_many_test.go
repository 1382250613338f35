package work_test

import (
	"path/filepath"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// manyPacks is a clinic with more packs in its loads than one entry can name.
func manyPacks(t *testing.T, packs int) *work.Desk {
	t.Setenv("MVUKE_STATE", t.TempDir())
	now := time.Date(2027, 6, 3, 7, 0, 0, 0, time.UTC)
	dir := filepath.Join(t.TempDir(), "d")
	if err := demo.Large(dir, packs, now); err != nil {
		t.Fatal(err)
	}
	d, err := work.Open(dir, work.Options{Clock: demo.NewClock(now)})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	people, err := d.People()
	if err != nil {
		t.Fatal(err)
	}
	d.Act(people[0].ID)
	return d
}

// A recall of more packs than one entry can name is answered and closed by several; it opens again by a pack that none of them names.
func TestARecallOfManyPacksCloses(t *testing.T) {
	const packs = 1600
	d := manyPacks(t, packs)
	ids, err := d.LatestCycles(1000)
	if err != nil || len(ids) != packs/5 {
		t.Fatal(len(ids), err)
	}
	some := ids[1:] // but the newest
	recall, err := d.OpenRecall(work.RecallForm{Why: model.RecallHand, Loads: some, Reason: "wrong altitude on the card"})
	if err != nil {
		t.Fatal(err)
	}
	read := func() work.Recall {
		t.Helper()
		r, err := d.Recall(recall)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := read()
	if r.Total != packs-5 || r.Untold == 0 {
		t.Fatalf("%d packs, %d of them used and nobody told", r.Total, r.Untold)
	}
	var all, used []model.ID
	for _, l := range r.Loads {
		for _, q := range l.Squares {
			all = append(all, q.Pack)
			if q.Owed {
				used = append(used, q.Pack)
			}
		}
	}
	if err := d.CloseRecall(recall, ""); err == nil {
		t.Fatal("closed without a reason, with packs left")
	}
	if err := d.TellRecall(recall, model.SoughtSeen, all, "the book of the ward"); err != nil {
		t.Fatal(err)
	}
	if err := d.TellRecall(recall, model.SoughtClinician, used[:len(used)-1], "the doctor on call"); err != nil {
		t.Fatal(err)
	}
	if r = read(); r.Untold != 1 || r.Closed {
		t.Fatalf("%d untold, closed %v", r.Untold, r.Closed)
	}
	if err := d.CloseRecall(recall, "moved away"); err != nil {
		t.Fatal(err)
	}
	if r = read(); !r.Closed || r.Short != 1 || r.Ended != "moved away" {
		t.Fatalf("closed %v, %d short, %q", r.Closed, r.Short, r.Ended)
	}
	if err := d.WidenRecall(recall, "the card hung there longer"); err != nil {
		t.Fatal(err)
	}
	if r = read(); r.Closed || r.Total != packs {
		t.Fatalf("closed %v with the packs of the newest load, %d in all", r.Closed, r.Total)
	}
}
