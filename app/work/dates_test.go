package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// Dates that would make a pack, a lot or a list look better than it is.

// What has no wrap is used at once, or not at all.
func TestUnwrappedIsForNow(t *testing.T) {
	b := desk(t)
	p := b.place()
	id, plan, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Unwrapped, Packs: demo.Packs(1, 5), TestPack: true, WaterML: 2600})
	b.check(err)
	for _, s := range []struct {
		code  model.StepCode
		after time.Duration
	}{{model.StepLidShut, 3}, {model.StepLit, 2}, {model.StepVentStart, 17}, {model.StepVentEnd, 11}} {
		b.clk.Pass(s.after * time.Minute)
		b.check(b.d.Step(id, s.code, nil))
	}
	for _, share := range []int64{45, 78, 97, 100} {
		b.clk.Pass(4 * time.Minute)
		b.check(b.d.Look(id, plan.Frozen.MarkMilli*share/100, model.NoAnswer, 0))
	}
	b.goOn(id, 8, model.Stayed)
	b.check(b.d.Release(id, ""))
	c, err := b.d.Cycle(id)
	b.check(err)
	pack := c.Begun.Packs[0].ID
	if b.state(pack) != work.ShelfNow {
		t.Fatalf("just now: %s", b.state(pack))
	}
	b.clk.Pass(24 * time.Hour)
	if b.state(pack) != work.ShelfExpired {
		t.Errorf("the next day: %s", b.state(pack))
	}
	if b.d.OpenPack(pack, work.UseForm{Outside: true, Strip: model.StripNone, Number: "1"}) == nil {
		t.Error("opened the next day without a word")
	}
}

// Sterilized tomorrow: one of the two dates is wrong, and the label decides.
func TestSterilizedInTheFuture(t *testing.T) {
	b := desk(t)
	b.clk.Pass(80 * 24 * time.Hour)
	packs, _ := b.sterile(1)
	b.check(b.d.Close())
	b.clk.Reboot(0)
	b.clk.Wall = b.clk.Wall.Add(-80 * 24 * time.Hour)
	b.open()
	_ = b.d.AnswerDate(b.clk.Wall.Add(79*24*time.Hour + 2*time.Hour)) // taken or not, it makes nothing fresh
	if b.state(packs[0]).Good() && b.state(packs[0]) != work.ShelfLabel {
		t.Errorf("sterilized in the future, and %s", b.state(packs[0]))
	}
}

// The date that a person said counts where the clock stands years back.
func TestSaidDateExpires(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	truth := b.clk.Wall.Add(30 * 24 * time.Hour)
	b.check(b.d.Close())
	b.clk.Reboot(0)
	b.clk.Wall = b.clk.Wall.Add(-3 * time.Hour) // a clock that stood still a little before
	b.open()
	b.check(b.d.AnswerDate(truth))
	if b.state(packs[0]) != work.ShelfExpired {
		t.Errorf("thirty days by the date that was said, cloth: %s", b.state(packs[0]))
	}
}

// Of results told twice of one test the worse counts, in whatever order.
func TestSporeToldTwice(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	id := b.spore(cycle, 365*24*time.Hour, true)
	b.clk.Pass(48 * time.Hour)
	said, err := b.d.ReadSpore(id, model.SporeRead{Hours: 48, Degrees: 57})
	b.check(err)
	a := b.other(65, true)
	a.Lamport = 1
	b.put(a, entry.Draft{Kind: model.KindSporeRead, Payload: model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()},
		Targets: []model.Ref{{Noun: model.NounTest, ID: id}, {Noun: model.NounCycle, ID: cycle}}})
	got, err := b.d.SporeTest(id)
	b.check(err)
	if said != model.SporeVoid || got.Said != model.SporeVoid {
		t.Errorf("void, and another device says negative: %s, then %s", said, got.Said)
	}
}

// A reading that arrives before its placing, by its counter, is judged by what was laid in all the same.
func TestSporeReadBeforePlaced(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	id := b.d.NewID()
	refs := []model.Ref{{Noun: model.NounTest, ID: id}, {Noun: model.NounCycle, ID: cycle}}
	laid := b.clk.Wall
	b.clk.Pass(48 * time.Hour)
	a := b.other(66, true)
	a.Lamport = 1
	for _, control := range []bool{true, false} { // negative first, then void: the control did not grow
		b.put(a, entry.Draft{Kind: model.KindSporeRead, Targets: refs, Payload: model.SporeRead{ControlGrew: control, Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()}})
	}
	b.put(a, entry.Draft{Kind: model.KindSporePlaced, Targets: refs, Payload: model.SporePlaced{Cycle: cycle, Pot: b.pot().ID, Lot: "L", Control: true,
		Expires: laid.Add(365 * 24 * time.Hour).UnixMilli(), At: laid.UnixMilli()}})
	got, err := b.d.SporeTest(id)
	b.check(err)
	if got.Said != model.SporeVoid {
		t.Errorf("negative and void, both before the placing: %s", got.Said)
	}
}

// A policy that is off says nothing of its number.
func TestPolicyOffKeepsNoNumber(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.clk.Pass(20 * 24 * time.Hour)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyShelfCloth, Value: 1_000_000, Source: "x"}))
	if b.state(packs[0]) != work.ShelfExpired {
		t.Errorf("shelf life switched off with a million days: %s", b.state(packs[0]))
	}
}

// A single-use wrap used again keeps no longer than cloth; a strip that was put in is looked for.
func TestWrapUsedAgain(t *testing.T) {
	f := packForm("x")
	f.Wrap, f.Again = model.WrapPouch, true
	if work.ShelfDays(model.Rules(nil), packOf(t, f), model.Wrapped) != 14 {
		t.Error("a pouch used again keeps longer than cloth")
	}
	b := desk(t)
	packs, _ := b.sterile(1)
	if code(b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNone})) != "strip-was-in" {
		t.Error("the strip that was put in was not there, and nobody asked")
	}
}

// Two points that contradict each other are no comparison, and a gauge that reads low beyond its class is none either.
func TestComparisonsThatCannotBe(t *testing.T) {
	for want, f := range map[string]work.CompareForm{
		"compare-swapped":       {Points: []work.ComparePoint{{Shown: 104, True: 124}, {Shown: 30, True: 50}}, Cold: true},
		"compare-contradiction": {Points: []work.ComparePoint{{Shown: 87, True: 74}, {Shown: 87, True: 100}}, Cold: true},
	} {
		b := desk(t)
		f.With = b.reference("R1", 1000)
		if got := code(b.d.Compare(b.pot(), b.place().Site, f)); got != want {
			t.Errorf("%s: %q", want, got)
		}
	}
}

// What a list asks for is there, or is named.
func TestCountFitsItsList(t *testing.T) {
	b := desk(t)
	ps, err := work.ParsePieces("1 clamp *\n2\tclamp\n1 scissors", nil)
	b.check(err)
	id, err := b.d.SaveSet(model.ID{}, model.SetList{Name: "d", Pieces: ps})
	b.check(err)
	form := work.PackForm{Set: "d", Present: 2, Listed: 4, Counted: true, Without: "2 clamp", Wrap: model.WrapCloth, Tape: true, List: id}
	for want, change := range map[string]func(*work.PackForm){
		"piece-essential": func(f *work.PackForm) { f.Short = []model.Short{{Piece: "clamp", Want: 2}} },
		"count-list":      func(f *work.PackForm) { f.Present, f.Listed = 1, 1 },
	} {
		f := form
		change(&f)
		if _, _, err := b.d.MakePack(f); code(err) != want {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// A pack cannot have been in a fire that was lit before it was packed.
func TestSlipBeforeItsPack(t *testing.T) {
	b := desk(t)
	b.clk.Pass(10 * 24 * time.Hour)
	_, num, err := b.d.MakePack(packForm("delivery"))
	b.check(err)
	load, err := b.d.LoadOf([]string{num.Text})
	b.check(err)
	low := int64(140_000)
	s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: load, TestPack: true, WaterML: 2600}, Lit: b.clk.Wall.Add(-5 * 24 * time.Hour),
		VentFrom: 17, VentTo: 28, SteamOut: 90, Zero: 100, ZeroSeen: true, Opened: 105, Looks: []work.SlipLook{{Minute: 40, Needle: 145_000, Lowest: &low}}}
	if _, err := b.d.TypeIn(b.pot(), b.place().Site, s); code(err) != "pack-packed-later" {
		t.Errorf("%v", err)
	}
}

// A part of the number of a pack that waits is no pack of its own.
func TestHalfANumber(t *testing.T) {
	b := desk(t)
	_, num, err := b.d.MakePack(packForm("delivery"))
	b.check(err)
	half := num.Text[5:9]
	if _, err := b.d.LoadOf([]string{half}); code(err) != "number-half" {
		t.Errorf("%s of %s: %v", half, num.Text, err)
	}
}
