package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

const zyear = 365 * 24 * time.Hour

func (b *bench) zneg(id model.ID) {
	b.t.Helper()
	b.clk.Pass(50 * time.Hour)
	_, err := b.d.ReadSpore(id, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	b.check(err)
}

func (b *bench) ztrial() model.ID {
	b.t.Helper()
	id, err := demo.CycleWith(b.d, b.clk, demo.Burn{Strip: true}, nil)
	b.check(err)
	return id
}

func (b *bench) zback() {
	b.t.Helper()
	for range 3 {
		b.zneg(b.spore(b.ztrial(), zyear, true))
	}
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
}

// Z1: tests "laid into" cycles that ended before the growth bring the pot back: the pot was never lit again.
func TestAttackSporeIntoOldCycles(t *testing.T) {
	b := desk(t)
	var old []model.ID
	for range 3 {
		_, c := b.sterile(1)
		old = append(old, c)
	}
	_, bad := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(bad, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	for _, c := range old {
		b.zneg(b.spore(c, zyear, true))
	}
	if err := b.d.BackToService(b.pot(), "spore-grew", "x"); err == nil {
		t.Error("back in service with three cycles that were over before the growth was read; pot out:", b.pot().Out)
	}
}

// Z2: growth of an earlier test read after a later negative: loads between the two are freed with the pot.
func TestAttackLookBackSkipsLoadsBetween(t *testing.T) {
	b := desk(t)
	_, c1 := b.sterile(1)
	sent := b.spore(c1, zyear, true) // sent away
	p2, _ := b.sterile(1)            // the load after it
	_, c3 := b.sterile(1)
	b.zneg(b.spore(c3, zyear, true))
	_, err := b.d.ReadSpore(sent, model.SporeRead{Grew: true})
	b.check(err)
	if b.state(p2[0]) != work.ShelfHeld {
		t.Fatal(b.state(p2[0]))
	}
	b.zback()
	if s := b.state(p2[0]); s != work.ShelfHeld && s != work.ShelfExpired {
		t.Errorf("the load right after the one that grew is %s", s)
	}
}

// Z3: two growths; a negative trial between them takes the loads of the first bad time out of the look-back.
func TestAttackSecondGrowthFreesFirstWindow(t *testing.T) {
	b := desk(t)
	p1, _ := b.sterile(1)
	_, c2 := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(c2, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	b.zneg(b.spore(b.ztrial(), zyear, true))
	g2 := b.spore(b.ztrial(), zyear, true)
	_, err = b.d.ReadSpore(g2, model.SporeRead{Grew: true})
	b.check(err)
	b.zback()
	if s := b.state(p1[0]); s != work.ShelfHeld {
		t.Errorf("a load of the first bad time is %s", s)
	}
}

// Z4: a slip typed in after the pot came back, for a fire lit in the bad time, is released.
func TestAttackSlipOfTheBadTime(t *testing.T) {
	b := desk(t)
	b.clk.Pass(10 * 24 * time.Hour)
	lit := b.clk.Wall.Add(-24 * time.Hour)
	_, c2 := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(c2, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	b.zback()
	_, id := b.slip(lit, 1)
	checks, _ := demo.GoodChecks(b.d, id)
	b.check(b.d.Unload(id, checks, true))
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	g, _ := b.d.Gate(id)
	t.Log(g.Result.Verdict, stops(g), g.Result.Reasons)
	if err := b.d.Release(id, ""); err == nil {
		c, _ := b.d.Cycle(id)
		t.Errorf("a load lit before the growth was read, typed in after the pot came back: %s, %s", word(b, id), b.state(c.Begun.Packs[0].ID))
	}
}

// Z5: a test laid in while the clock was in doubt, read an hour later when it was put right: 48 hours are believed.
func TestAttackIncubationAcrossClock(t *testing.T) {
	b := desk(t)
	_, c := b.sterile(1)
	b.d.Close()
	b.clk.Reboot(-11 * zyear)
	b.open()
	b.check(b.d.AnswerDate(time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)))
	id, err := b.d.PlaceSpore(c, model.SporePlaced{Lot: "L", Expires: time.Date(2027, 12, 1, 0, 0, 0, 0, time.UTC).UnixMilli(), Control: true})
	b.check(err)
	b.d.Close()
	b.clk.Reboot(0)
	b.clk.Wall = time.Date(2026, 12, 1, 13, 0, 0, 0, time.UTC)
	b.open()
	said, err := b.d.ReadSpore(id, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
	if err == nil && said == model.SporeNegative {
		t.Error("48 hours of incubation in one hour:", said)
	}
}

// Z6: who laid the test in is told twice; a removed device's word, made to sort first, turns the growth to another load or bars it.
func TestAttackGrowthTurnedAside(t *testing.T) {
	for name, zero := range map[string]bool{"another load": false, "a load that is not": true} {
		b := desk(t)
		_, c0 := b.sterile(1)
		packs, c1 := b.sterile(1)
		id := b.spore(c1, zyear, true)
		a := b.other(41, true)
		a.Lamport = 0
		to := c0
		if zero {
			to = b.d.NewID()
		}
		b.put(a, entryDraft(id, to))
		_, err := b.d.ReadSpore(id, model.SporeRead{Grew: true})
		if err != nil {
			t.Errorf("%s: growth is refused: %v", name, err)
		}
		if s := b.state(packs[0]); s != work.ShelfHeld || !b.pot().Out {
			t.Errorf("%s: spores grew in its load and the pack is %s, pot out %v", name, s, b.pot().Out)
		}
	}
}

// slip types in a good cycle from paper, lit at a time, with n packs; it gives the first of them.
func (b *bench) slip(lit time.Time, n int) (pack, cycle model.ID) {
	b.t.Helper()
	p := b.place()
	s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(n, 1), WaterML: 2600, TestPack: true}, Lit: lit,
		VentFrom: 18, VentTo: 29, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91}
	for m := 35.0; m <= 80; m += 3 {
		low := int64(145_000)
		s.Looks = append(s.Looks, work.SlipLook{Minute: m, Needle: 147_000, Lowest: &low})
	}
	cycle, err := b.d.TypeIn(p.Pots[0], p.Site, s)
	b.check(err)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	return c.Begun.Packs[0].ID, cycle
}
