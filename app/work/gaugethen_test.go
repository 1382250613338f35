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

// slipOf is a slip of a load that stood on 131 and more from minute 35 to 80.
func slipOf(lit time.Time) work.Slip {
	s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), WaterML: 2600, TestPack: true}, Lit: lit,
		VentFrom: 18, VentTo: 29, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91}
	for m := 35.0; m <= 80; m += 3 {
		low := int64(131_000)
		s.Looks = append(s.Looks, work.SlipLook{Minute: m, Needle: 133_000, Lowest: &low})
	}
	return s
}

// typed types a slip in, and what is needed to release it; released says whether it was.
func (b *bench) typed(s work.Slip) (pack, cycle model.ID, released bool) {
	b.t.Helper()
	cycle, err := b.d.TypeIn(b.pot(), b.place().Site, s)
	b.check(err)
	checks, err := demo.GoodChecks(b.d, cycle)
	b.check(err)
	b.check(b.d.Witnessed(cycle, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	b.check(b.d.Unload(cycle, checks, true))
	released = b.d.Release(cycle, "") == nil
	c, err := b.d.Cycle(cycle)
	b.check(err)
	return c.Begun.Packs[0].ID, cycle, released
}

// A slip of a day on which another gauge was on the pot is judged by that gauge, by all that was found of it: before it was screwed off, and after, with the gauge in the hand.
func TestASlipIsJudgedByTheGaugeOfItsDay(t *testing.T) {
	for _, found := range []string{"never", "while it was on", "in the hand, before the slip", "in the hand, after the slip"} {
		t.Run(found, func(t *testing.T) {
			b := atD(t)
			b.compare(rightAt...)
			b.clk.Pass(48 * time.Hour)
			lit := b.clk.Wall
			b.clk.Pass(48 * time.Hour)
			old := b.pot()
			if found == "while it was on" {
				b.compare(high...)
			}
			b.swap()
			b.compare(rightAt...)
			inHand := func() {
				b.clk.Pass(time.Hour)
				all, err := b.d.EarlierGauges(b.pot())
				b.check(err)
				if len(all) != 1 || all[0].Looks.Gauge != old.Looks.Gauge {
					t.Fatalf("%+v", all)
				}
				b.check(b.d.Compare(all[0], b.place().Site, b.form(twelveAt...)))
			}
			if found == "in the hand, before the slip" {
				inHand()
			}
			b.clk.Pass(24 * time.Hour)
			pack, cycle, released := b.typed(slipOf(lit))
			c, err := b.d.Cycle(cycle)
			b.check(err)
			if c.Begun.Gauge != old.Looks.Gauge {
				t.Error("it says that it was run by the gauge that is on the pot today")
			}
			if found == "in the hand, after the slip" {
				if !released {
					t.Fatal("nothing was known against it, and it was not released")
				}
				inHand()
			}
			if got := b.word(pack); (got == register.Usable) != (found == "never") {
				t.Errorf("131 on a gauge that shows 12 too much is 119: the pack is %s", got)
			}
			b.clk.Pass(48 * time.Hour)
			after, afterCycle, _ := b.typed(slipOf(b.clk.Wall.Add(-20 * time.Hour)))
			c, err = b.d.Cycle(afterCycle)
			b.check(err)
			if got := b.word(after); c.Begun.Gauge != b.pot().Looks.Gauge || got != register.Usable {
				t.Errorf("a slip of the new gauge is %s", got)
			}
		})
	}
}

// Near the day on which a gauge was screwed on nobody but who stood at the fire knows which one was watched: it is asked, and one that cannot have been on is not taken.
func TestASlipNearAnotherGaugeAsksWhich(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(72 * time.Hour)
	first := b.pot().Looks.Gauge
	b.swap()
	b.compare(rightAt...)
	b.clk.Pass(12 * time.Hour)
	s := slipOf(b.clk.Wall.Add(-20 * time.Hour))
	if _, err := b.d.TypeIn(b.pot(), b.place().Site, s); code(err) != "slip-which-gauge" {
		t.Fatalf("typed in with one of two gauges: %v", err)
	}
	s.Gauge = b.d.NewID()
	if _, err := b.d.TypeIn(b.pot(), b.place().Site, s); code(err) != "slip-gauge-not-then" {
		t.Fatalf("typed in with a gauge that was never on the pot: %v", err)
	}
	s.Gauge = first
	_, cycle, _ := b.typed(s)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	if c.Begun.Gauge != first {
		t.Error("it is not of the gauge that was said")
	}
	b.clk.Pass(72 * time.Hour)
	s = slipOf(b.clk.Wall.Add(-24 * time.Hour))
	s.Gauge = first
	if _, err := b.d.TypeIn(b.pot(), b.place().Site, s); code(err) != "slip-gauge-not-then" {
		t.Errorf("typed in with a gauge that had been screwed off for days: %v", err)
	}
}

// rename corrects the pot's name on a device, and nothing else.
func (b *bench) rename(name string) error {
	a := demo.Answers("en")
	p := b.place()
	a.Site, a.Pot, a.Gauge = p.Site, p.Pots[0].Looks, p.Pots[0].Gauge
	a.Pot.Name = name
	return b.d.Correct(p.Pots[0], p, a)
}

// One device tells that another gauge was screwed on while the other corrects the name of the pot: nobody knows which gauge is on it, so there is no mark and no fire, on either, until somebody says
// which. Correcting something else does not say it.
func TestNoMarkWhileTwoGaugesMayBeOn(t *testing.T) {
	for _, last := range []string{"the correction is later", "the gauge is later"} {
		t.Run(last, func(t *testing.T) {
			p, tablet, _, _ := twoAtD(t, 136_000)
			old := p.pot().Looks.Gauge
			if last == "the correction is later" {
				for range 30 {
					tablet.check(tablet.d.TellStock(model.StockTape, 3, true))
				}
				p.swap()
				tablet.check(tablet.rename("the pot at the window"))
			} else {
				tablet.check(tablet.rename("the pot at the window"))
				for range 30 {
					p.check(p.d.TellStock(model.StockTape, 3, true))
				}
				p.swap()
			}
			p.carry(p.tablet, p.d, false)
			p.carry(p.d, p.tablet, false)
			for _, b := range []*bench{p.bench, tablet} {
				if err := b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 77), TestPack: true, WaterML: 2600, Fuel: "wood"}); code(err) != "two-gauges" {
					t.Errorf("lit: %v", err)
				}
				if !b.line("two-gauges") {
					t.Error("Today does not ask which gauge is on the pot")
				}
				if err := b.rename("the other name"); code(err) != "two-gauges" {
					t.Errorf("corrected without a word on the gauge: %v", err)
				}
			}
			both := append([]model.ID{p.pot().Looks.Gauge}, p.pot().Also...)
			if len(both) != 2 {
				t.Fatal(both)
			}
			now := both[0]
			if now == old {
				now = both[1]
			}
			p.check(p.d.OnThePot(p.pot(), now, false))
			p.carry(p.d, p.tablet, false)
			for _, b := range []*bench{p.bench, tablet} {
				if pot := b.pot(); pot.Looks.Gauge != now || len(pot.Also) > 0 || b.line("two-gauges") {
					t.Errorf("said, and it is %+v", pot)
				}
				b.neverCompared()
			}
			p.check(p.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 77), TestPack: true, WaterML: 2600, Fuel: "wood"}))
		})
	}
}

// The device that told of the new gauge is removed as of a day before that: its word counts no more, and the gauge that was screwed off is not on the pot for that.
func TestAGaugeToldByADeviceThatIsRemoved(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.compare(low...)
	p.carry(p.d, p.tablet, false)
	day := p.clk.Wall
	p.clk.Pass(24 * time.Hour)
	old := p.pot().Looks.Gauge
	tablet.swap()
	p.carry(p.tablet, p.d, false)
	if p.pot().Looks.Gauge == old {
		t.Fatal("not on")
	}
	p.check(p.d.RemoveDevice(tablet.own().Stream, day, "stolen"))
	if err := p.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 77), TestPack: true, WaterML: 2600, Fuel: "wood"}); code(err) != "two-gauges" {
		t.Errorf("lit: %v", err)
	}
	if !p.line("two-gauges") {
		t.Error("Today is silent")
	}
	p.check(p.d.OnThePot(p.pot(), old, false))
	if p.pot().Looks.Gauge != old || len(p.pot().Also) > 0 || p.line("two-gauges") {
		t.Errorf("said, and it is %+v", p.pot())
	}
	p.check(p.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 77), TestPack: true, WaterML: 2600, Fuel: "wood"}))
}

// A gauge that comes back on a pot is the one that it was: what was found of it counts again. It is known by the number on its dial, so it must have one.
func TestAGaugeThatComesBack(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	old := b.pot()
	b.swap()
	b.clk.Pass(24 * time.Hour)
	looks := old.Gauge
	looks.Serial = " " + looks.Serial
	if err := b.d.NewGauge(b.pot(), looks); code(err) != "gauge-known" {
		t.Errorf("a gauge that showed 12 too much begins anew: %v", err)
	}
	looks.Serial = " "
	if err := b.d.NewGauge(b.pot(), looks); code(err) != "gauge-number" {
		t.Errorf("a gauge without a number: %v", err)
	}
	was, ok, err := b.d.KnownGauge(b.pot(), old.Gauge.Serial)
	b.check(err)
	if !ok || was.Looks.Gauge != old.Looks.Gauge {
		t.Fatalf("%v %+v", ok, was)
	}
	b.check(b.d.OnThePot(b.pot(), was.Looks.Gauge, false))
	list, err := b.d.Comparisons(b.pot())
	b.check(err)
	if b.pot().Looks.Gauge != old.Looks.Gauge || len(list) != 2 || list[0].Points[1].ErrorMilli != 12_000 {
		t.Errorf("%+v", list)
	}
	if all, err := b.d.EarlierGauges(b.pot()); err != nil || len(all) != 1 || all[0].Gauge.Serial != "9" {
		t.Errorf("the other one was never compared, and may be found wrong in the hand: %+v %v", all, err)
	}
}

// One device screws another gauge on; the other lights without having heard of that, by the plan of the gauge that is off. Its load is in doubt on both, and judged by the gauge that was on. What was lit
// well before, or knowing of it, stands.
func TestALoadLitNotKnowingOfAnotherGauge(t *testing.T) {
	p, tablet, known, _ := twoAtD(t, 136_000)
	before, _ := tablet.heldAt(131_000) // the desk has not heard of it
	p.clk.Pass(48 * time.Hour)
	p.swap()
	p.compare(twelveAt...)
	p.clk.Pass(48 * time.Hour)
	low, lowLoad := tablet.heldAt(131_000)
	enough, _ := tablet.heldAt(145_000)
	for _, pack := range append(before, append(low, enough...)...) {
		if w := tablet.word(pack); w != register.Usable {
			t.Fatalf("before anybody heard: %s", w)
		}
	}
	p.carry(p.tablet, p.d, false)
	p.carry(p.d, p.tablet, false)
	after, _ := tablet.heldAt(145_000)
	for _, b := range []*bench{p.bench, tablet} {
		for name, packs := range map[string][]model.ID{"lit with the gauge that was off": low, "the same, higher": enough, "unheard of, lit days before": before} {
			if w := b.word(packs[0]); w != register.Held {
				t.Errorf("%s: %s", name, w)
			}
		}
		if w := b.word(known[0]); w != register.Usable {
			t.Errorf("lit before the gauge was changed, and known then: %s", w)
		}
	}
	if w := tablet.word(after[0]); w != register.Usable {
		t.Errorf("lit knowing of the gauge: %s", w)
	}
	l, err := p.d.LookBack(lowLoad)
	p.check(err)
	if !slices.ContainsFunc(l.Causes, func(f work.FoundOut) bool { return f.Code == "gauge-swapped" }) || l.Stands {
		t.Errorf("%+v %v", l.Causes, l.Stands)
	}
	came, err := p.d.SettleDoubt(p.pot().ID, "looked at the card in the pot")
	p.check(err)
	if came.Stood != 1 || came.Called != 1 || came.Dates != 1 {
		t.Errorf("%+v", came)
	}
	if w := p.word(before[0]); w != register.Held {
		t.Errorf("a clock alone says that it was lit before, and it is %s", w)
	}
	if n, err := p.d.SettleByDates(p.pot().ID, "both devices have the date of the radio"); n != 1 {
		t.Errorf("freed %d: %v", n, err)
	}
	for name, packs := range map[string][]model.ID{"the same, higher": enough, "lit days before": before} {
		if w := p.word(packs[0]); w != register.Usable {
			t.Errorf("%s: %s", name, w)
		}
	}
	if w := p.word(low[0]); w != register.Held {
		t.Errorf("131 on a gauge that shows 12 too much: %s", w)
	}
	p.tablesHold()
	tablet.tablesHold()
}

// tablesHold checks that the read tables are what the entries make them: that nothing was forgotten to be folded again.
func (b *bench) tablesHold() {
	b.t.Helper()
	open := func() (sum [32]byte, ids []model.ID) {
		sum, err := b.d.Store.Digest()
		b.check(err)
		ids, err = b.d.Store.OpenCyclesOf(b.pot().ID)
		b.check(err)
		return sum, ids
	}
	sum, ids := open()
	b.check(b.d.Store.RebuildViews())
	if again, now := open(); again != sum || !slices.Equal(ids, now) {
		b.t.Errorf("made again the tables say %v, before %v; the sums are equal: %v", now, ids, again == sum)
	}
}

// The same, with a gauge that nobody compared: that the old one showed too little helps nothing.
func TestALoadLitNotKnowingOfAGaugeNeverCompared(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.compare(low...)
	p.carry(p.d, p.tablet, false)
	p.swap()
	p.clk.Pass(48 * time.Hour)
	line := tablet.plan().Frozen.RestartMilli
	_, load := tablet.heldAt(line)
	p.carry(p.tablet, p.d, false)
	p.carry(p.d, p.tablet, false)
	l, err := tablet.d.LookBack(load)
	p.check(err)
	if l.Stands || len(l.Causes) != 1 {
		t.Errorf("stands by the line of the gauge that was off: %+v", l.Causes)
	}
}

// What stood by a gauge that it was lit without knowing of is in doubt again once that gauge is found wrong.
func TestAGaugeNotKnownOfIsFoundWrongLater(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.swap()
	p.clk.Pass(48 * time.Hour)
	packs, _ := tablet.heldAt(131_000)
	p.carry(p.tablet, p.d, false)
	came, err := p.d.SettleDoubt(p.pot().ID, "looked at the card in the pot")
	p.check(err)
	if w := p.word(packs[0]); came.Stood != 1 || w != register.Usable {
		t.Fatalf("%+v %s", came, w)
	}
	n, err := p.d.CheckCompare(p.pot(), p.place().Site, p.form(twelveAt...))
	p.check(err)
	p.compare(twelveAt...)
	if w := p.word(packs[0]); w != register.Held || n != 1 {
		t.Errorf("131 on a gauge that shows 12 too much: %s; %d loads were said to fall in doubt", w, n)
	}
	p.carry(p.d, p.tablet, false)
	if w := tablet.word(packs[0]); w != register.Held {
		t.Errorf("on the other device: %s", w)
	}
	if came, err := p.d.SettleDoubt(p.pot().ID, "looked again"); err != nil || came.Called != 1 {
		t.Errorf("%+v %v", came, err)
	}
	p.tablesHold()
	tablet.tablesHold()
	if r := p.recallOf(); r.Why != model.RecallGauge {
		t.Errorf("called back for %v", r.Why)
	}
}

// Another gauge was told of by mistake, and the one on the pot was never off it: what was lit since by the other's mark is in doubt, however long ago, and a slip of that time is of the one that was on. Where it was off, and
// is back, nothing of that is so.
func TestAGaugeThatWasNeverOffForDays(t *testing.T) {
	for _, neverOff := range []bool{true, false} {
		b := atD(t)
		b.compare(rightAt...)
		b.clk.Pass(24 * time.Hour)
		b.compare(twelveAt...)
		old := b.pot().Looks.Gauge
		b.swap()
		b.compare(rightAt...)
		b.clk.Pass(72 * time.Hour)
		packs, _ := b.heldAt(133_000)
		between := b.clk.Wall
		b.clk.Pass(72 * time.Hour)
		b.check(b.d.OnThePot(b.pot(), old, neverOff))
		if w := b.word(packs[0]); (w == register.Held) != neverOff {
			t.Errorf("never off %v: 133 on a gauge that shows 12 too much: %s", neverOff, w)
		}
		then, err := b.d.GaugesThen(b.pot(), between)
		b.check(err)
		if len(then) != 1 || (then[0].Looks.Gauge == old) != neverOff {
			t.Errorf("never off %v: a slip of that time is of %+v", neverOff, then)
		}
		if !neverOff {
			continue
		}
		if came, err := b.d.SettleDoubt(b.pot().ID, "looked back"); err != nil || came.Called != 1 {
			t.Errorf("%+v %v", came, err)
		}
	}
}
