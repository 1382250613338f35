package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Ways in which a load that was not shown to be sterilized was once called so. None may ever work again.

// goOn finishes a cycle under way with n looks of four minutes each, and gives the gate of its load.
func (b *bench) goOn(id model.ID, n int, a model.Answer) work.Gate {
	b.t.Helper()
	c, err := b.d.Cycle(id)
	b.check(err)
	for range n {
		b.clk.Pass(4 * time.Minute)
		b.check(b.d.Look(id, c.Begun.Plan.MarkMilli, a, 0))
	}
	zero := int64(0)
	for _, code := range []model.StepCode{model.StepFireDrawn, model.StepSteamOut, model.StepZero, model.StepOpened, model.StepDried, model.StepCooled} {
		b.clk.Pass(5 * time.Minute)
		b.check(b.d.Step(id, code, &zero))
	}
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.RanThrough}))
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	checks, err := demo.GoodChecks(b.d, id)
	b.check(err)
	b.check(b.d.Unload(id, checks, true))
	g, err := b.d.Gate(id)
	b.check(err)
	return g
}

func (b *bench) reboot(off time.Duration, wall time.Time) {
	b.t.Helper()
	b.check(b.d.Close())
	b.clk.Reboot(off)
	if !wall.IsZero() {
		b.clk.Wall = wall
	}
	b.open()
}

func TestPowerCutInTheHoldIsNeverBridged(t *testing.T) {
	for name, wall := range map[string]func(before time.Time) time.Time{
		"clock back in 2015":                 func(time.Time) time.Time { return time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC) },
		"clock goes on where it was stopped": func(t time.Time) time.Time { return t.Add(5 * time.Second) },
		"clock a little back":                func(t time.Time) time.Time { return t.Add(-2 * time.Minute) },
		"clock nine minutes on":              func(t time.Time) time.Time { return t.Add(9 * time.Minute) },
	} {
		t.Run(name, func(t *testing.T) {
			b := desk(t)
			id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, StopAfter: 12})
			now := b.clk.Wall
			b.reboot(3*time.Hour, wall(now)) // three hours in truth
			_, err := b.d.Wake()
			b.check(err)
			c, _ := b.d.Cycle(id)
			if r, _ := b.d.Judge(c); r.Running != 0 {
				t.Errorf("after the cut the screen still counts %.1f minutes", r.Running)
			}
			if b.d.AskDate() {
				b.check(b.d.AnswerDate(now.Add(3 * time.Hour)))
			}
			g := b.goOn(id, 5, model.Stayed)
			if g.Open() || g.Result.Held > 24 {
				t.Errorf("%s, held %.1f, stops %v", g.Result.Verdict, g.Result.Held, stops(g))
			}
			if len(g.Cycle.Breaks) != 1 || !g.Cycle.Breaks[0].Unproven {
				t.Errorf("the interruption is not told: %+v", g.Cycle.Breaks)
			}
		})
	}
}

func TestVentAcrossARestartDoesNotCount(t *testing.T) {
	b := desk(t)
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(2, 1), TestPack: true, WaterML: 2600})
	b.check(err)
	for _, s := range []model.StepCode{model.StepLidShut, model.StepLit, model.StepVentStart} {
		b.clk.Pass(3 * time.Minute)
		b.check(b.d.Step(id, s, nil))
	}
	b.reboot(20*time.Minute, time.Time{})
	_, err = b.d.Wake()
	b.check(err)
	b.clk.Pass(time.Minute)
	b.check(b.d.Step(id, model.StepVentEnd, nil))
	if g := b.goOn(id, 12, model.Stayed); g.Open() || g.Result.Verdict == model.Shown {
		t.Errorf("%s", g.Result.Verdict)
	}
}

func TestWallSteppedBackHidesNoGap(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, StopAfter: 12})
	b.clk.Pass(time.Hour)
	b.clk.Wall = b.clk.Wall.Add(-59 * time.Minute)
	if g := b.goOn(id, 5, model.LookedAway); g.Open() {
		t.Errorf("%s held %.1f", g.Result.Verdict, g.Result.Held)
	}
}

func TestBadNewsIsTakenAfterTheRelease(t *testing.T) {
	for name, act := range map[string]func(*bench, model.ID) error{
		"strip read late": func(b *bench, id model.ID) error {
			return b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: false})
		},
		"torn on the shelf": func(b *bench, id model.ID) error {
			checks, _ := demo.GoodChecks(b.d, id)
			checks[0].WrapOK = false
			return b.d.Unload(id, checks, true)
		},
		"rejected": func(b *bench, id model.ID) error { return b.d.Reject(id, "recall") },
		"stopped":  func(b *bench, id model.ID) error { return b.d.Stop(id, "spore test grew") },
	} {
		b := desk(t)
		id, g := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true})
		if !g.Open() {
			t.Fatal(stops(g))
		}
		b.check(b.d.Release(id, ""))
		if err := act(b, id); err != nil || word(b, id) != register.Held {
			t.Errorf("%s: %v, the pack is %s", name, err, word(b, id))
		}
	}
}

func TestThermometerReadsCelsius(t *testing.T) {
	b := desk(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 1, First: 1, Strip: true})
	b.check(err)
	if c := code(b.d.Witnessed(id, model.Witness{Kind: model.WitnessThermometer, MaxMilli: 235_000})); c != "thermometer" {
		t.Error("235 degF passed as 235 degC:", c)
	}
}

func TestNothingIsWitnessedBeforeTheEnd(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, StopAfter: 8})
	checks, _ := demo.GoodChecks(b.d, id)
	if c := code(b.d.Unload(id, checks, true)); c != "gate.not-closed" {
		t.Error(c)
	}
	if c := code(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true})); c != "gate.not-closed" {
		t.Error(c)
	}
}

func TestWetPacksAreCountedOverAllLooks(t *testing.T) {
	b := desk(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 4, First: 1, Strip: true})
	b.check(err)
	for i := range 2 {
		checks, _ := demo.GoodChecks(b.d, id)
		checks[i].Dry = false
		b.check(b.d.Unload(id, checks, true))
	}
	g, err := b.d.Gate(id)
	b.check(err)
	if !slices.Contains(stops(g), "hold") || len(g.Bad) != 2 {
		t.Errorf("stops %v, %d bad", stops(g), len(g.Bad))
	}
}

func TestRetiredPersonMayNotRelease(t *testing.T) {
	b := desk(t)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true})
	nurse, err := b.d.AddPerson(model.Person{Name: "x", Roles: []model.Role{model.RoleReleaser}})
	b.check(err)
	b.check(b.d.RetirePerson(nurse, "left"))
	b.d.Act(nurse)
	if c := code(b.d.Release(id, "")); c != "gate.not-a-releaser" {
		t.Error(c)
	}
}

func TestNoTestPackNoWitness(t *testing.T) {
	b := desk(t)
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), WaterML: 2600})
	b.check(err)
	for i, s := range []model.StepCode{model.StepLit, model.StepVentStart, model.StepVentEnd} {
		b.clk.Pass(time.Duration(3+4*i) * time.Minute)
		b.check(b.d.Step(id, s, nil))
	}
	if g := b.goOn(id, 12, model.Stayed); !slices.Contains(stops(g), "no-test-pack") {
		t.Error(stops(g))
	}
}

func TestRestoredCopyStopsOpenLoads(t *testing.T) {
	b := desk(t)
	id, err := demo.Cycle(b.d, b.clk, demo.Burn{Packs: 1, First: 1, Strip: true})
	b.check(err)
	path, _, err := b.d.Backup()
	b.check(err)
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: false})) // known, and not in the copy
	b.check(b.d.Close())
	if _, _, err := work.Restore(path, b.dir, b.clk.Wall); err != nil {
		t.Fatal(err)
	}
	b.open()
	checks, _ := demo.GoodChecks(b.d, id)
	b.check(b.d.Unload(id, checks, true))
	if g, _ := b.d.Gate(id); g.Open() || !slices.Contains(stops(g), "hold") {
		t.Error(stops(g))
	}
}

func TestSlipSaysWhatItSays(t *testing.T) {
	b := desk(t)
	p := b.place()
	slip := func() work.Slip {
		s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), WaterML: 2600, TestPack: true}, Lit: b.clk.Wall.Add(-72 * time.Hour),
			VentFrom: 18, VentTo: 29, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91}
		for m := 40.0; m <= 80; m += 4 {
			low := int64(135_000)
			s.Looks = append(s.Looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
		}
		return s
	}
	half := slip()
	half.VentFrom = 0
	if _, err := b.d.TypeIn(p.Pots[0], p.Site, half); code(err) != "vent-half" {
		t.Error("a vent without its beginning:", err)
	}
	at := slip()
	at.SteamOut, at.Zero = 80, 80
	if _, err := b.d.TypeIn(p.Pots[0], p.Site, at); code(err) != "time-backwards" {
		t.Error("zero at the minute of the last look:", err)
	}
	if _, err := b.d.TypeIn(p.Pots[0], p.Site, slip()); err != nil {
		t.Fatal(err)
	}
	if _, err := b.d.TypeIn(p.Pots[0], p.Site, slip()); code(err) != "slip-overlaps" {
		t.Error("one load written down twice:", err)
	}
}
