package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

func (b *bench) pot() work.Pot { return b.place().Pots[0] }

func (b *bench) standing() steam.Standing {
	b.t.Helper()
	p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	return p.Gauge.Standing
}

// good is a comparison with a reference gauge that may be off by 1.5 kPa.
func (b *bench) good() work.CompareForm {
	b.t.Helper()
	return work.CompareForm{Points: []work.ComparePoint{{130, 127}, {50, 49}}, With: b.reference("R1", 1500), Cold: true}
}

func (b *bench) reference(name string, off int64) model.ID {
	b.t.Helper()
	all, err := b.d.References()
	b.check(err)
	for _, r := range all {
		if r.Name == name {
			return r.ID
		}
	}
	id, err := b.d.SaveReference(model.ID{}, model.Reference{Name: name, Unit: "kPa", ErrorMilli: off, Certificate: "C-1", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
	b.check(err)
	return id
}

// A comparison replaces the class: the mark comes down by what the gauge may err less, and its own error is taken off.
func TestComparisonTakesTheClassesPlace(t *testing.T) {
	b := desk(t)
	before, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	b.check(b.d.Compare(b.pot(), b.place().Site, b.good()))
	after, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	if after.Gauge.Standing != steam.Compared || after.Gauge.Error() >= before.Gauge.Error() || after.Plan.Restart < before.Plan.Restart {
		t.Errorf("%v %v, restart %v then %v", after.Gauge.Standing, after.Gauge.Error(), before.Plan.Restart, after.Plan.Restart)
	}
	b.clk.Pass(91 * 24 * time.Hour)
	if b.standing() != steam.Overdue {
		t.Error("a comparison holds for ever")
	}
}

func TestBadComparisonsAreRefused(t *testing.T) {
	b := desk(t)
	for name, change := range map[string]func(f *work.CompareForm){
		"compare-cold":      func(f *work.CompareForm) { f.Cold = false },
		"compare-points":    func(f *work.CompareForm) { f.Points = f.Points[:1] },
		"compare-with":      func(f *work.CompareForm) { f.With = model.ID{9} },
		"compare-reference": func(f *work.CompareForm) { f.With = b.reference("coarse", 12_000) },
		"gauge-worthless":   func(f *work.CompareForm) { f.Points[0].Shown = 160 },
		"compare-where":     func(f *work.CompareForm) { f.Points[0] = work.ComparePoint{60, 59} },
		"needle-off-dial":   func(f *work.CompareForm) { f.Points[0].Shown = 300 },
	} {
		f := b.good()
		change(&f)
		if got := code(b.d.Compare(b.pot(), b.place().Site, f)); got != name {
			t.Errorf("%s: %q", name, got)
		}
	}
	if b.standing() != steam.Never {
		t.Error("a refused comparison counts")
	}
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	b.d.Act(nurse)
	if b.d.Compare(b.pot(), b.place().Site, b.good()) == nil {
		t.Error("a recorder compared a gauge")
	}
}

// Case 39: a valve that does not lift stops the pot at once; what came out of it stays good. A valve that lifts lower moves the limit.
func TestCase039ValveStuck(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(2)
	b.check(b.d.LiftValve(b.pot(), false, 0))
	if !b.pot().Out {
		t.Fatal("the pot is in service")
	}
	if b.state(packs[0]) != work.ShelfReady {
		t.Errorf("too much pressure is not too little heat: %s", b.state(packs[0]))
	}
	if code(b.d.BackToService(b.pot(), "valve-stuck", "new valve")) != "valve-not-mended" {
		t.Error("back in service without a valve that lifts")
	}
	b.check(b.d.LiftValve(b.pot(), true, b.pot().Looks.LimitPa+10_000))
	if code(b.d.BackToService(b.pot(), "valve-stuck", "new valve")) != "valve-not-mended" {
		t.Error("a valve that lifts above the pot's own limit counts as mended")
	}
	b.check(b.d.LiftValve(b.pot(), true, 165_000))
	b.check(b.d.BackToService(b.pot(), "valve-stuck", "new valve"))
	if p := b.pot(); p.Out || p.Looks.ValvePa != 165_000 {
		t.Errorf("%+v", p)
	}
}

func (b *bench) spore(cycle model.ID, expires time.Duration, control bool) model.ID {
	b.t.Helper()
	id, err := b.d.PlaceSpore(cycle, model.SporePlaced{Lot: "L7", Expires: b.clk.Wall.Add(expires).UnixMilli(), Control: control})
	b.check(err)
	return id
}

// A negative is one only with a control that grew, a lot in date, and its hours at its warmth; growth is never void.
func TestSporeResults(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	year := 365 * 24 * time.Hour
	for _, c := range []struct {
		name    string
		expires time.Duration
		control bool
		r       model.SporeRead
		want    model.SporeSaid
	}{
		{"all right", year, true, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}, model.SporeNegative},
		{"control dead", year, true, model.SporeRead{Hours: 48, Degrees: 57}, model.SporeVoid},
		{"no control", year, false, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}, model.SporeVoid},
		{"lot over", -24 * time.Hour, true, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}, model.SporeVoid},
		{"too short", year, true, model.SporeRead{ControlGrew: true, Hours: 12, Degrees: 57}, model.SporeVoid},
		{"too cool", year, true, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 37}, model.SporeVoid},
	} {
		id := b.spore(cycle, c.expires, c.control)
		b.clk.Pass(48 * time.Hour)
		got, err := b.d.ReadSpore(id, c.r)
		b.check(err)
		if got != c.want || b.pot().Out {
			t.Errorf("%s: %s, pot out %v", c.name, got, b.pot().Out)
		}
	}
	if got, err := b.d.ReadSpore(b.spore(cycle, -24*time.Hour, false), model.SporeRead{Grew: true}); err != nil || got != model.SporePositive || !b.pot().Out {
		t.Errorf("growth in an expired test: %s %v", got, err)
	}
}

// Case 55: an expired lot is void and resets no due date. Case 56: overdue after thirty days.
func TestCase055And056DueDates(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	first := b.spore(cycle, 365*24*time.Hour, true)
	if _, err := b.d.ReadSpore(first, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}); code(err) != "incubation-too-soon" {
		t.Fatalf("48 hours in no time: %v", err)
	}
	b.clk.Pass(48 * time.Hour)
	_, err := b.d.ReadSpore(first, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	b.check(err)
	b.clk.Pass(32 * 24 * time.Hour)
	l, ok := lineOf(t, b, "spore-overdue")
	if !ok || l.Args[1] != "34" || l.Args[2] != "30" {
		t.Fatalf("%+v", l)
	}
	second := b.spore(cycle, -60*24*time.Hour, true)
	b.clk.Pass(48 * time.Hour)
	_, err = b.d.ReadSpore(second, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	b.check(err)
	if _, ok := lineOf(t, b, "spore-overdue"); !ok {
		t.Error("a void test reset the due date")
	}
}

// Case 53: after growth the pot stays out until three valid negatives in empty cycles; one good test is not enough.
func TestCase053ThreeNegatives(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(2)
	other, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[1], work.UseForm{Outside: true, Strip: model.StripReached, Number: "2026/1184"}))
	_, err := b.d.ReadSpore(b.spore(cycle, 365*24*time.Hour, true), model.SporeRead{Grew: true})
	b.check(err)
	if b.state(packs[0]) != work.ShelfHeld {
		t.Fatalf("spores grew and the pack is %s", b.state(packs[0]))
	}
	used := func(when string) { // a pack was used before its load was stopped: Today's recall says that nobody was told, and has the number
		t.Helper()
		l, ok := lineOf(t, b, "recall")
		if !ok || l.Args[3] != "1" {
			t.Fatalf("%s, Today says %+v", when, l)
		}
		r, err := b.d.Recall(l.Cycle)
		b.check(err)
		if s := r.Square(packs[1]); s == nil || s.At != work.AtUsed || s.Use != "2026/1184" || s.Told {
			t.Errorf("%s, the recall has %+v", when, s)
		}
	}
	used("when spores grew")
	if code(b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 900), TestPack: true, WaterML: 2600})) != "out-of-service" {
		t.Error("a pot that grew spores was lit with a load")
	}
	for i := range 3 {
		if code(b.d.BackToService(b.pot(), "spore-grew", "seal changed")) != "three-negatives" {
			t.Fatalf("back after %d negatives", i)
		}
		never := b.trialNeverLit()
		trial, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil)
		b.check(err)
		id := b.spore(trial, 365*24*time.Hour, true)
		twice := b.spore(trial, 365*24*time.Hour, true)
		b.clk.Pass(50 * time.Hour)
		for _, id := range []model.ID{never, twice} { // neither adds anything
			_, err = b.d.ReadSpore(id, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
			b.check(err)
		}
		_, err = b.d.ReadSpore(id, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
		b.check(err)
	}
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal changed, three negatives"))
	if b.state(other[0]) != work.ShelfHeld {
		t.Errorf("a load of the same bad time is %s when the pot comes back", b.state(other[0]))
	}
	used("when the pot is back")
	if b.pot().Out {
		t.Error("still out of service")
	}
	if b.state(packs[0]) != work.ShelfHeld {
		t.Errorf("the load in which spores grew is %s", b.state(packs[0]))
	}
}

// trialNeverLit is a spore test in a test cycle that was given up before the fire.
func (b *bench) trialNeverLit() model.ID {
	b.check(b.begin(work.BeginForm{Item: model.Wrapped, Trial: true, TestPack: true, WaterML: 2600}))
	c, err := b.d.UnderWay()
	b.check(err)
	id := b.spore(c.State.Ref.ID, 365*24*time.Hour, true)
	b.check(b.d.CloseCycle(c.State.Ref.ID, model.CycleClosed{Outcome: model.Aborted, Reason: "test cycle over"}))
	return id
}

func (b *bench) begin(f work.BeginForm) error {
	_, _, err := b.d.Begin(b.pot(), b.place().Site, f)
	return err
}

// A piece that was missing and not counted stands on top of Today until somebody answers.
func TestCase042MissingPieceAtReturn(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}))
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 6}))
	ls, err := b.d.Today()
	b.check(err)
	if ls[0].Code != "piece-missing" || ls[0].Args[4] != "1187" {
		t.Fatalf("%+v", ls[0])
	}
	if code(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 5})) != "pieces-fewer" {
		t.Error("the missing piece was let fall by asking for five")
	}
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 6, Counted: true}))
	if _, ok := lineOf(t, b, "piece-missing"); ok {
		t.Error("the line stays after the answer")
	}
}
