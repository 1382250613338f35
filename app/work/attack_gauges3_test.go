package work_test

import (
	"testing"
	"time"

	"mvuke/model"
	"mvuke/model/register"
)

// What the second attack on the gauges found.

// Another gauge was told of by mistake, the pot was renamed since, and only then it is said that the old one was never off.
func TestARenamedPotHidesNoMistake(t *testing.T) {
	for _, rename := range []bool{false, true} {
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
		if rename {
			b.check(b.rename("by the window"))
			b.clk.Pass(24 * time.Hour)
		}
		b.check(b.d.OnThePot(b.pot(), old, true))
		then, err := b.d.GaugesThen(b.pot(), between)
		b.check(err)
		if w := b.word(packs[0]); w == register.Usable {
			t.Errorf("rename %v: load lit by the mistaken gauge's mark %s", rename, w)
		}
		b.clk.Pass(48 * time.Hour)
		t.Log("rename", rename, "then", len(then), then[0].Looks.Gauge == old)
		pack, _, released := b.typed(slipOf(between.Add(3 * time.Hour)))
		if w := b.word(pack); w == register.Usable {
			t.Errorf("rename %v: slip of then, 131 on a gauge 12 too high, released %v: %s", rename, released, w)
		}
	}
}

// Two wrong numbers were told one after the other, before it is said that the old one was never off.
func TestTwoMistakesOfOneGauge(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	old := b.pot().Looks.Gauge
	b.swap()
	b.compare(rightAt...)
	b.clk.Pass(48 * time.Hour)
	packs, _ := b.heldAt(133_000)
	b.clk.Pass(48 * time.Hour)
	g := nine
	g.Serial = "6"
	b.check(b.d.NewGauge(b.pot(), g))
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.OnThePot(b.pot(), old, true))
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("133 on a gauge 12 too high that was never off: %s", w)
	}
}

// Of two gauges the new one is on; that the pot was renamed days before it came says nothing of those days.
func TestARenameLongBeforeMakesNoGaugeOlder(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.compare(rightAt...)
	old := p.pot().Looks.Gauge
	tablet.check(tablet.rename("by the window"))
	p.clk.Pass(72 * time.Hour)
	good, _ := p.heldAt(136_000) // by the old gauge, which is right
	between := p.clk.Wall.Add(3 * time.Hour)
	p.clk.Pass(96 * time.Hour)
	p.check(p.d.NewGauge(p.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}))
	now := p.pot().Looks.Gauge
	p.carry(p.tablet, p.d, false)
	p.clk.Pass(time.Hour)
	p.check(p.d.OnThePot(p.pot(), now, false))
	t.Log("load of the old gauge, four days before the swap:", p.word(good[0]))
	then, err := p.d.GaugesThen(p.pot(), between)
	p.check(err)
	t.Log("gauges then", len(then), "the old one:", then[0].Looks.Gauge == old)
	if len(then) != 1 || then[0].Looks.Gauge != old {
		t.Error("a slip of four days before the swap is said to be of the new gauge")
	}
	p.compare(twelveAt...) // the new one is bad; it says nothing of that load
	t.Log("after the new one is found bad:", p.word(good[0]))
	came, err := p.d.SettleDoubt(p.pot().ID, "looked back")
	t.Log(came, err, p.word(good[0]))
	if came.Called > 0 {
		t.Error("a load that the old, right gauge watched four days before the swap is called back by the new gauge")
	}
}

// It was said that the old gauge was never off, and that was the mistake: taken back, the days between are of the new one.
func TestThatAGaugeWasNeverOffWasTheMistake(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	old := b.pot().Looks.Gauge
	b.clk.Pass(48 * time.Hour)
	b.swap() // truly
	now := b.pot().Looks.Gauge
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...) // the new one is bad
	b.clk.Pass(72 * time.Hour)
	lit := b.clk.Wall
	b.clk.Pass(96 * time.Hour)
	b.check(b.d.OnThePot(b.pot(), old, true)) // by mistake
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.OnThePot(b.pot(), now, true)) // that one was on all the time
	b.clk.Pass(48 * time.Hour)
	then, err := b.d.GaugesThen(b.pot(), lit)
	b.check(err)
	t.Log(len(then), "the new one:", then[0].Looks.Gauge == now)
	s := slipOf(lit)
	s.Gauge = now
	_, err = b.d.TypeIn(b.pot(), b.place().Site, s)
	t.Log("typed in with the one that was on:", err)
	if len(then) == 1 && then[0].Looks.Gauge == now {
		return
	}
	pack, _, released := b.typed(slipOf(lit))
	if w := b.word(pack); w == register.Usable {
		t.Errorf("131 on a gauge 12 too high: released %v, %s", released, w)
	}
}

// Two loads whose dates are in doubt, and another gauge is told of: nobody knows of either which gauge watched it.
func TestEachLoadOfADoubtfulDateIsNear(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(72 * time.Hour)
	was := b.clk.Wall
	b.check(b.d.Close())
	b.clk.Wall = time.Date(2020, 1, 1, 7, 0, 0, 0, time.UTC)
	b.open()
	first, _ := b.heldAt(131_000)
	b.clk.Pass(time.Hour)
	second, _ := b.heldAt(131_000)
	b.check(b.d.Close())
	b.clk.Wall = was.Add(7 * time.Hour)
	b.open()
	t.Log("doubtful", b.d.ClockDoubtful())
	b.check(b.d.NewGauge(b.pot(), nine))
	b.compare(twelveAt...)
	t.Log("first", b.word(first[0]), "second", b.word(second[0]))
	if b.word(first[0]) == register.Usable {
		t.Error("lit hours before the gauge was told of, by a clock in doubt; the newer one is asked about, this one is not")
	}
}

// The same of a tablet, whose load is followed by a dated one of the laptop.
func TestALoadOfADoubtfulDateOnAnotherDevice(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	p.clk.Pass(48 * time.Hour)
	was := p.clk.Wall
	tablet.check(tablet.d.Close())
	t.Setenv("MVUKE_STATE", p.states[1])
	tablet.clk.Wall = time.Date(2020, 1, 1, 7, 0, 0, 0, time.UTC)
	tablet.open()
	p.tablet = tablet.d
	packs, _ := tablet.heldAt(131_000)
	p.clk.Wall = was.Add(3 * time.Hour)
	p.carry(p.tablet, p.d, false)
	own, _ := p.heldAt(150_000)
	p.clk.Pass(time.Hour)
	p.check(p.d.NewGauge(p.pot(), nine))
	p.compare(twelveAt...)
	t.Log("tablet's", p.word(packs[0]), "own", p.word(own[0]))
	if p.word(packs[0]) == register.Usable {
		t.Error("lit by a clock in doubt the same day as the gauge was told of, before a later load: usable at 131, the new gauge shows 12 too much")
	}
	p.tablesHold()
}

// A dial to 2.5 bar came on that day: a load that was read at 160 was watched by the one before it.
func TestADialThatCannotHaveShownIt(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(72 * time.Hour)
	packs, _ := b.heldAt(160_000)
	b.clk.Pass(time.Hour)
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "bar", SpanMilli: 2_500, LineMilli: 20, ClassMilli: 1000}))
	came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	t.Log(came, err, b.word(packs[0]))
	if b.word(packs[0]) == register.Usable {
		return
	}
	b.clk.Pass(48 * time.Hour)
	n, err := b.d.FreeStanding(b.recallOf().ID, "x")
	t.Log(n, err, b.word(packs[0]))
	t.Error("160 on a right dial in kPa; a dial in bar came an hour after: never free")
}

// What was freed by name opens nothing again when it is stopped for something else.
func TestWhatWasFreedOpensNoEndedRecall(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(time.Hour)
	packs, load := b.heldAt(131_000)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	b.check(err)
	r := b.recallOf()
	wrong := b.told()[0]
	b.clk.Pass(24 * time.Hour)
	b.compare(rightAt...)
	b.check(b.d.Withdraw(b.pot(), wrong, "of another gauge"))
	_, err = b.d.FreeStanding(r.ID, "x")
	b.check(err)
	b.check(b.d.CloseRecall(r.ID, ""))
	b.clk.Pass(48 * time.Hour)
	b.check(b.d.Stop(load, "the lid was not tight"))
	x, err := b.d.Recall(r.ID)
	b.check(err)
	if !x.Closed {
		t.Error("a recall for a gauge, over and freed, is open again by a stop for a lid")
	}
}

// It was said that the old gauge was never off, and that was the mistake: a load that the right gauge watched meanwhile is free again by looking back, and is not called back by the other's errors.
func TestALoadIsFreeOnceTheMistakeIsTakenBack(t *testing.T) {
	b := atD(t)
	b.compare(rightAt...)
	b.clk.Pass(24 * time.Hour)
	b.compare(twelveAt...)
	old := b.pot().Looks.Gauge
	b.clk.Pass(48 * time.Hour)
	b.swap() // truly
	now := b.pot().Looks.Gauge
	b.compare(rightAt...)
	b.clk.Pass(72 * time.Hour)
	packs, _ := b.heldAt(133_000)
	b.clk.Pass(96 * time.Hour)
	b.check(b.d.OnThePot(b.pot(), old, true)) // by mistake
	if w := b.word(packs[0]); w != register.Held {
		t.Errorf("while the old one is said to have been on: %s", w)
	}
	b.clk.Pass(24 * time.Hour)
	b.check(b.d.OnThePot(b.pot(), now, true))
	came, err := b.d.SettleDoubt(b.pot().ID, "the number on the dial was misread")
	b.check(err)
	if w := b.word(packs[0]); came.Stood != 1 || came.Called != 0 || w != register.Usable {
		t.Errorf("%+v; 133 on the right gauge that was on: %s", came, w)
	}
}

var nine = model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 1000}

// A gauge was screwed on, and told of by a device whose clock stood five days ahead. The load that the tablet lit the day after, by the plan of the gauge that was off, was not surely lit before.
func TestASwapToldByAClockAhead(t *testing.T) {
	for name, setRight := range map[string]bool{"the stick was here before that day": false, "the clock was set right since": true} {
		p, tablet, _, _ := twoAtD(t, 136_000)
		real := p.clk.Wall
		p.clk.Wall = real.AddDate(0, 0, 5)
		p.swap()
		p.compare(twelveAt...)
		p.clk.Wall = real.AddDate(0, 0, 1)
		_, low := tablet.heldAt(131_000)
		if setRight {
			p.check(p.d.Close())
			p.open() // asks for the date
			if !p.d.AskDate() {
				t.Fatal("a clock that went back is not asked about")
			}
			p.check(p.d.AnswerDate(time.Time{}))
			p.clk.Wall = real.AddDate(0, 0, 8)
		}
		p.carry(p.d, p.tablet, false)
		p.carry(p.tablet, p.d, false)
		for at, b := range map[string]*bench{"where it was told": p.bench, "where it was lit": tablet} {
			l, err := b.d.LookBack(low)
			b.check(err)
			if !setRight && at == "where it was told" { // no stick says that its clock was wrong
				continue
			}
			if l.Stands {
				t.Errorf("%s, %s: a load that was lit after another gauge came stands, for a clock that stood ahead: %+v", name, at, l.Causes)
			}
		}
	}
}
