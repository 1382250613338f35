package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// A spore test is read by who laid it in, or by who speaks for that clinic. What a device of another clinic says of it frees nothing, at the clinic or at the office, and proves nothing: not with a recall that calls
// the whole bad time back, not with one that calls back only the load that grew.
func TestAnotherClinicsReadingProvesNothing(t *testing.T) {
	for _, wide := range []bool{true, false} {
		x, b, c := twoClinics(t)
		if !wide {
			x.office.check(x.office.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
			x.carry(x.office, b)
		}
		early, _ := b.sterile(1)
		_, mid := b.sterile(1)
		test := b.spore(mid, zyear, true)
		placed, err := b.d.SporeTest(test)
		b.check(err)
		_, bad := b.sterile(1)
		b.clk.Pass(60 * time.Hour)
		c.clk.Wall, x.office.clk.Wall = b.clk.Wall, b.clk.Wall
		b.grows(bad)
		r := b.recallOf()
		x.carry(b, x.office)
		c.put(c.own(), entry.Draft{Kind: model.KindSporeRead, Targets: placed.PlacedBy.Body().Refs(), Relies: []entry.ID{placed.PlacedBy.ID()},
			Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: c.clk.Wall.UnixMilli()}})
		x.carry(c, x.office)
		for _, on := range []*bench{b.bench, x.office.bench} {
			if _, err := on.d.FreeBefore(r.ID, "no others tonight"); code(err) != "recall-none-before" {
				t.Errorf("wide %v: loads are freed by it: %v", wide, err)
			}
			if said, err := on.d.SporeTest(test); err != nil || said.Said == model.SporeNegative {
				t.Errorf("wide %v: the test is %s, %v", wide, said.Said, err)
			}
		}
		all, err := x.office.d.Standings()
		b.check(err)
		if i := slices.IndexFunc(all, func(s work.Standing) bool { return s.Name == b.name }); all[i].NegativeAgo >= 0 {
			t.Errorf("wide %v: the office says that it was proved %d days ago", wide, all[i].NegativeAgo)
		}
		id, err := x.office.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "x", Loads: []model.ID{bad}, Wide: true})
		b.check(err)
		if w, err := x.office.d.Recall(id); err != nil || w.Square(early[0]) == nil {
			t.Errorf("wide %v: a recall of the office leans on it: %v", wide, err)
		}
		x.carry(x.office, b)
		if s := b.state(early[0]); s == work.ShelfReady {
			t.Errorf("wide %v: spores grew in its pot, and its pack is %s", wide, s)
		}
		// what the clinic reads itself counts everywhere
		if _, err := b.d.ReadSpore(test, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}); err != nil {
			t.Fatal(err)
		}
		x.carry(b, x.office)
		if said, err := x.office.d.SporeTest(test); err != nil || said.Said != model.SporeNegative {
			t.Errorf("wide %v: read by the clinic, and at the office it is %s, %v", wide, said.Said, err)
		}
	}
}

// A test that only another clinic says it laid in proves nothing, whoever reads it.
func TestATestThatOnlyAnotherClinicLaidIn(t *testing.T) {
	x, b, c := twoClinics(t)
	_, load := b.sterile(1)
	test := b.d.NewID()
	x.carry(b, x.office)
	x.carry(x.office, c)
	c.put(c.own(), entry.Draft{Kind: model.KindSporePlaced, Targets: []model.Ref{{Noun: model.NounTest, ID: test}, cref(load), {Noun: model.NounSterilizer, ID: b.pot().ID}},
		Payload: model.SporePlaced{Cycle: load, Pot: b.pot().ID, Lot: "L1", Expires: b.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true, At: b.clk.Wall.UnixMilli()}})
	x.carry(c, x.office)
	x.carry(x.office, b)
	b.clk.Pass(60 * time.Hour)
	if said, err := b.d.ReadSpore(test, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}); err != nil || said == model.SporeNegative {
		t.Errorf("it is %s, %v", said, err)
	}
	if _, ok, err := b.d.LastNegative(b.pot().ID); ok || err != nil {
		t.Errorf("the pot was proved by it: %v", err)
	}
}
