package work_test

import (
	"slices"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/steam"
)

var (
	low      = []work.ComparePoint{{Shown: 58, True: 60}, {Shown: 128, True: 130}}
	five     = []work.ComparePoint{{Shown: 65, True: 60}, {Shown: 130, True: 125}}
	eighteen = []work.ComparePoint{{Shown: 78, True: 60}, {Shown: 142, True: 124}}
)

// takeBack takes a comparison back.
func (b *bench) takeBack(id entry.ID) {
	b.t.Helper()
	b.clk.Pass(time.Hour)
	b.check(b.d.Withdraw(b.pot(), id, "of another gauge"))
}

// told are the comparisons that are listed.
func (b *bench) told() (out []entry.ID) {
	b.t.Helper()
	all, err := b.d.Comparisons(b.pot())
	b.check(err)
	for _, x := range all {
		out = append(out, x.ID)
	}
	return out
}

// found compares, and gives what was written.
func (b *bench) found(ps ...work.ComparePoint) entry.ID {
	b.t.Helper()
	b.clk.Pass(time.Hour)
	before := b.told()
	b.compare(ps...)
	for _, id := range b.told() {
		if !slices.Contains(before, id) {
			return id
		}
	}
	b.t.Fatal("not listed")
	return entry.ID{}
}

// of is an entry about the gauge of the pot, with its dial.
func (b *bench) of(c model.Compared, replaces ...entry.ID) entry.Draft {
	looks := b.pot().Gauge
	c.Gauge = &looks
	c.At = b.clk.Wall.UnixMilli()
	return entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}}, Replaces: replaces, Payload: c}
}

var (
	saysRight  = model.Compared{Points: []model.FrozenCorrection{{AtMilli: 60_000}, {AtMilli: 130_000}}, ReferenceMilli: 625, WorstPa: 625}
	saysTwelve = model.Compared{Points: []model.FrozenCorrection{{AtMilli: 72_000, ErrorMilli: 12_000}, {AtMilli: 130_000, ErrorMilli: 12_000}}, ReferenceMilli: 625, WorstPa: 12_625}
)

// dial describes the dial anew by another serial.
func (b *bench) dial(serial string) {
	b.t.Helper()
	a := demo.Answers("en")
	a.Site, a.Pot, a.Gauge = b.place().Site, b.pot().Looks, b.pot().Gauge
	a.Gauge.Serial = serial
	b.check(b.d.Correct(b.pot(), b.place(), a))
}

// What a comparison that was taken back said hides no later one: "nothing worse was found than what puts it in doubt already" must not be said of what was taken back.
func TestAttackWithdrawComparedAgain(t *testing.T) {
	b := atD(t)
	b.found(right...)
	packs, _ := b.heldAt(138_000)
	wrong := b.found(high...)
	b.found(five...)
	b.takeBack(wrong)
	came, err := b.d.SettleDoubt(b.pot().ID, "taken back")
	b.check(err)
	if came.Stood != 1 {
		t.Fatalf("%+v", came)
	}
	b.found(high...)
	b.falls(packs[0])
}

// The same by two devices: one frees the load, the other has found twelve in the meantime, and that stands.
func TestAttackWithdrawFreedWhileAnotherFinds(t *testing.T) {
	p, tablet, packs, _ := twoAtD(t, 131_000)
	wrong := p.found(high...)
	p.carry(p.d, p.tablet, false)
	tablet.found(high...)
	p.found(right...)
	p.takeBack(wrong)
	came, err := p.d.SettleDoubt(p.pot().ID, "taken back")
	p.check(err)
	if came.Stood != 1 {
		t.Fatalf("%+v", came)
	}
	p.carry(p.tablet, p.d, false)
	p.falls(packs[0])
}

// Both of two that were made at once are taken back, each by a device that knew the other to count: the lower mark must not rest on figures that somebody in charge called wrong.
func TestAttackWithdrawBothAtOnce(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	before := p.plan().Frozen.RestartMilli
	ours := p.found(low...)
	theirs := tablet.found(low...)
	p.carry(p.tablet, p.d, false)
	p.carry(p.d, p.tablet, false)
	p.takeBack(ours)
	tablet.takeBack(theirs)
	p.carry(p.tablet, p.d, false)
	if got := p.plan(); got.Frozen.RestartMilli < before {
		t.Errorf("both are taken back; the line is %d, before them %d, %s", got.Frozen.RestartMilli, before, got.Gauge.Standing)
	}
}

// What was taken back stays so when the dial is described as it was: a mark may not come down by a slip of the pen under Setup.
func TestAttackWithdrawAnotherDialAndBack(t *testing.T) {
	b := atD(t)
	before, serial := b.plan().Frozen.RestartMilli, b.pot().Gauge.Serial
	wrong := b.found(low...)
	b.dial("2270") // a slip of the pen
	b.found(right...)
	b.takeBack(wrong)
	b.dial(serial)
	if got := b.plan(); got.Frozen.RestartMilli < before || got.Gauge.Standing == steam.Compared {
		t.Errorf("taken back; the line is %d (uncompared %d), %s", got.Frozen.RestartMilli, before, got.Gauge.Standing)
	}
}

// One that was taken back vouches for nothing (TestWithdrawnComparisonVouchesForNothing), also where two were, the older first: the window of the next reaches back over all that were.
func TestAttackWithdrawBothVouchers(t *testing.T) {
	b := atD(t)
	packs, _ := b.heldAt(142_000) // by class
	one := b.found(right...)
	two := b.found(right...)
	b.takeBack(one)
	b.found(eighteen...)
	b.takeBack(two)
	b.falls(packs[0])
}

// The window of a comparison that another device made in the meantime rests on what was taken back, which vouches for nothing.
func TestAttackWithdrawVoucherWhileAnotherCompares(t *testing.T) {
	p, tablet, packs, _ := twoAtD(t, 142_000)
	wrong := p.found(right...)
	p.carry(p.d, p.tablet, false)
	tablet.found(five...)
	tablet.takeBack(wrong)
	p.found(eighteen...)
	p.carry(p.tablet, p.d, false)
	p.falls(packs[0])
}

// "It put loads in doubt itself: they stay in the window" (inPast): the second of three looks at a gauge, which found the same as the first, must not close the window for the third.
func TestAttackWithdrawThriceFound(t *testing.T) {
	b := atD(t)
	b.found(right...)
	packs, _ := b.heldAt(142_000)
	b.found(high...)
	b.found(high...)
	b.found(eighteen...)
	b.falls(packs[0])
}

// Another comparison that was made later than the one that is taken back, and before the bad one, still vouches for all before it.
func TestAttackWithdrawOverDoubt(t *testing.T) {
	b := atD(t)
	packs, _ := b.heldAt(142_000) // by class
	one := b.found(right...)
	b.found(right...) // this one was of the gauge
	b.found(eighteen...)
	if got := b.word(packs[0]); got != register.Usable {
		t.Fatal(got)
	}
	b.takeBack(one)
	if got := b.word(packs[0]); got != register.Usable {
		t.Errorf("the second comparison stands and vouches for it, and it is %s", got)
	}
}

// "What was cleared by that is held again": who took it back is removed, or copied, after somebody freed the load by it.
func TestAttackWithdrawByADeviceRemovedAfterTheClear(t *testing.T) {
	for name, later := range map[string]func(*bench, *entry.Author, uint64){
		"removed": func(b *bench, a *entry.Author, _ uint64) { b.remove(a) },
		"copied":  func(b *bench, a *entry.Author, seq uint64) { b.forkAt(a, seq) },
	} {
		t.Run(name, func(t *testing.T) {
			b := atD(t)
			b.found(right...)
			packs, _ := b.heldAt(131_000)
			wrong := b.found(high...)
			good := b.found(right...)
			a := b.manager(97)
			b.put(a, stockNote)
			c := saysRight
			c.Withdraws, c.Reason, c.Restates = wrong[:], "r", good[:]
			v := b.put(a, b.of(c, wrong))
			came, err := b.d.SettleDoubt(b.pot().ID, "taken back")
			b.check(err)
			if came.Stood != 1 || b.word(packs[0]) != register.Usable {
				t.Fatalf("%+v %s", came, b.word(packs[0]))
			}
			later(b, a, v.Body().Seq)
			if got := b.word(packs[0]); got == register.Usable {
				t.Errorf("nobody whose word counts took it back, and the pack is %s", got)
			}
		})
	}
}

// A load that was lit while a word counted that does not count any more: it was not lit in knowledge of what was taken back by that.
func TestAttackWithdrawLitWhileItCounted(t *testing.T) {
	b := atD(t)
	one := b.found(right...)
	good := b.found(right...)
	m, n := b.manager(97), b.manager(98)
	twelve := b.put(m, b.of(saysTwelve, one)) // at once with the second
	line := b.plan().Frozen.RestartMilli
	id := twelve.ID()
	c := saysRight
	c.Withdraws, c.Reason, c.Restates = id[:], "r", good[:]
	b.put(n, b.of(c, id))
	if got := b.plan().Frozen.RestartMilli; got >= line {
		t.Fatal(got, line)
	}
	packs, _ := b.heldAt(131_000)
	b.remove(n)
	if got := b.plan().Frozen.RestartMilli; got < line {
		t.Fatal(got, line)
	}
	if got := b.word(packs[0]); got == register.Usable {
		t.Errorf("131 on a gauge found 12 too high, and nobody whose word counts took that back: the pack is %s", got)
	}
}

// "Made at once: the one by which the dial shows most too much" (gauge): the worst at the mark makes the mark, not the worst at the foot of the dial.
func TestAttackWithdrawWorstAtTheFootMakesTheMark(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.compare(work.ComparePoint{Shown: 72, True: 60}, work.ComparePoint{Shown: 133, True: 130})
	tablet.compare(work.ComparePoint{Shown: 63, True: 60}, work.ComparePoint{Shown: 141, True: 130})
	want := tablet.plan().Frozen.RestartMilli
	p.carry(p.tablet, p.d, false)
	if got := p.plan().Frozen.RestartMilli; got < want {
		t.Errorf("by the two together the line is %d, by one of them alone %d", got, want)
	}
}

// The same where both found that the dial shows too little: that which finds it less counts.
func TestAttackWithdrawOfTwoThatShowTooLittle(t *testing.T) {
	for _, first := range []bool{true, false} {
		p, tablet, _, _ := twoAtD(t, 136_000)
		a, b := p.bench, tablet
		if !first {
			a, b = b, a
		}
		a.compare(work.ComparePoint{Shown: 60, True: 60.5}, work.ComparePoint{Shown: 130, True: 130.5})
		want := a.plan().Frozen.RestartMilli
		b.compare(work.ComparePoint{Shown: 60, True: 62.5}, work.ComparePoint{Shown: 130, True: 132.5})
		p.carry(p.tablet, p.d, false)
		if got := p.plan().Frozen.RestartMilli; got < want {
			t.Errorf("by the two together the line is %d, by one of them alone %d", got, want)
		}
	}
}

// A reference that showed too much makes every gauge worse: no line falls by it, also where two comparisons were made at once.
func TestAttackWithdrawReferenceWrongOfTwoAtOnce(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.compare(right...)
	tablet.compare(high...)
	p.carry(p.d, p.tablet, false)
	p.carry(p.tablet, p.d, false)
	for _, b := range []*bench{p.bench, tablet} {
		want := b.plan().Frozen.RestartMilli
		_, err := b.d.ReferenceWrong(b.reference("R", 600), 1)
		b.check(err)
		if got := b.plan().Frozen.RestartMilli; got < want {
			t.Errorf("the reference showed too much, and the line falls from %d to %d", want, got)
		}
	}
}

// A comparison that was opened again by its reference is the same comparison: taken back, it does not count on as "another that counts".
func TestAttackWithdrawWhatTheReferenceOpenedAgain(t *testing.T) {
	b := atD(t)
	before := b.plan().Frozen.RestartMilli
	wrong := b.found(low...)
	_, err := b.d.ReferenceWrong(b.reference("R", 600), 1)
	b.check(err)
	if err := b.d.Withdraw(b.pot(), wrong, "of another gauge"); err != nil {
		return // it asks for another comparison first
	}
	if got := b.plan(); got.Frozen.RestartMilli < before || got.Gauge.Standing == steam.Compared {
		t.Errorf("taken back; the line is %d (uncompared %d), %s", got.Frozen.RestartMilli, before, got.Gauge.Standing)
	}
}

// A slip of days on which the gauge was known to be twelve too high, typed in after it was set right.
func TestAttackWithdrawSlipBetween(t *testing.T) {
	b := atD(t)
	b.found(right...)
	b.clk.Pass(10 * 24 * time.Hour)
	b.found(high...)
	lit := b.clk.Wall.Add(24 * time.Hour)
	b.clk.Pass(4 * 24 * time.Hour)
	b.found(right...) // it was set right
	b.clk.Pass(24 * time.Hour)
	b.slipAt(lit, 12)
}

// slipAt types a slip in whose needle never stood over 133, and says that it is not shown without a doubt.
func (b *bench) slipAt(lit time.Time, off int) {
	b.t.Helper()
	p := b.place()
	s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 1), WaterML: 2600, TestPack: true}, Lit: lit,
		VentFrom: 18, VentTo: 29, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91}
	for m := 35.0; m <= 80; m += 3 {
		low := int64(133_000)
		s.Looks = append(s.Looks, work.SlipLook{Minute: m, Needle: 135_000, Lowest: &low})
	}
	cycle, err := b.d.TypeIn(p.Pots[0], p.Site, s)
	b.check(err)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	open := slices.ContainsFunc(c.State.Holds, func(h register.Hold) bool { return h.Code == register.HoldGauge && h.Open() })
	j, err := b.d.Judge(c)
	b.check(err)
	if j.Verdict == model.Shown && !open {
		b.t.Errorf("133 on a dial that showed %d too much that day: %s, line %d, in doubt %v", off, j.Verdict, c.Begun.Plan.RestartMilli, open)
	}
}

// The number that is told before somebody takes a comparison back is of loads that it puts in doubt.
func TestAttackWithdrawTellsTheNumber(t *testing.T) {
	b := atD(t)
	b.found(right...)
	b.heldAt(131_000)
	one := b.found(high...)
	b.found(high...)
	count := func() int {
		all, err := b.d.InDoubt(b.pot().ID)
		b.check(err)
		return len(all)
	}
	before := count()
	n, err := b.d.CheckWithdraw(b.pot(), one)
	b.check(err)
	b.takeBack(one)
	if got := count() - before; got != n {
		t.Errorf("told %d, are %d", n, got)
	}
}

// An entry of another device whose Withdraws is no id stops no pot.
func TestAttackWithdrawOfNoID(t *testing.T) {
	for name, by := range map[string]func(*bench) *entry.Author{
		"a recorder": func(b *bench) *entry.Author { return b.other(82, true) },
		"unknown":    func(b *bench) *entry.Author { return b.other(82, false) },
	} {
		t.Run(name, func(t *testing.T) {
			b := atD(t)
			b.found(right...)
			b.put(by(b), b.of(model.Compared{Withdraws: []byte{1}, Reason: "r"}))
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("no load can be lit any more: %v", r)
				}
			}()
			b.check(b.begin(work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(2, 1), TestPack: true, WaterML: 2600, Fuel: "wood"}))
		})
	}
}

// What only a removed device found does not count as another: either it is refused, or it is taken back.
func TestAttackWithdrawOnlyARemovedDeviceIsLeft(t *testing.T) {
	b := atD(t)
	wrong := b.found(low...)
	a := b.manager(97)
	b.put(a, b.of(saysTwelve))
	b.remove(a)
	if err := b.d.Withdraw(b.pot(), wrong, "r"); err != nil {
		return
	}
	all, err := b.d.Comparisons(b.pot())
	b.check(err)
	for _, x := range all {
		if x.ID == wrong && (!x.Gone || x.Counts) {
			t.Errorf("it was taken back without a word, and is not: %+v", x)
		}
	}
}
