package screens

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/register"
)

// A load whose pot grew spores since, and is not called back by the district's policy: no pack of it may be used, and nothing shows a green sign for it. What was freed from the growth by name has it again.
func TestNoGreenSignForALoadOfAPotThatGrew(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir())
	clk := demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	d, err := work.Open(t.TempDir(), work.Options{Clock: clk})
	check(err)
	defer d.Close()
	check(d.SetUp(demo.Answers("en")))
	check(d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "test"}))
	check(d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, Source: "district: repeat the test first"}))
	run := func(n int) model.ID {
		id, err := demo.Cycle(d, clk, demo.Burn{Packs: 1, First: n, Strip: true})
		check(err)
		checks, err := demo.GoodChecks(d, id)
		check(err)
		check(d.Unload(id, checks, true))
		check(d.Release(id, ""))
		return id
	}
	spore := func(load model.ID, r model.SporeRead) {
		test, err := d.PlaceSpore(load, model.SporePlaced{Lot: "L7", Expires: clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true})
		check(err)
		clk.Pass(50 * time.Hour)
		_, err = d.ReadSpore(test, r)
		check(err)
	}
	load := run(1)
	spore(run(2), model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	green := func() bool {
		t.Helper()
		c, err := d.Cycle(load)
		check(err)
		s := &Stage{Desk: d, Words: assets.For("en")}
		_, shape, colour := s.state(c)
		if s.barred(c) == (colour == widgets.Green) {
			t.Errorf("its page and the list do not agree: %v", colour)
		}
		return shape == widgets.Check || colour == widgets.Green
	}
	word := func() register.Word {
		t.Helper()
		c, err := d.Cycle(load)
		check(err)
		a, err := d.Usable(c.Begun.Packs[0].ID)
		check(err)
		return a.Word
	}
	if word() != register.Usable || !green() {
		t.Fatalf("released: %s", word())
	}
	spore(run(3), model.SporeRead{Grew: true})
	if word() != register.Held || green() {
		t.Errorf("its pot grew spores: its pack is %s, green %v", word(), green())
	}
	all, err := d.Recalls()
	check(err)
	if n, err := d.FreeBefore(all[0].ID, "run before the last good test"); err != nil || n == 0 {
		t.Fatal(n, err)
	}
	if word() != register.Usable || !green() {
		t.Errorf("freed by name: its pack is %s, green %v", word(), green())
	}
}
