package work_test

import (
	"os"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// twoAtD is Clinic D with a laptop and a tablet, its gauge found right, and a load of which the needle stood at a figure; both devices know all of it.
func twoAtD(t *testing.T, needle int64) (p *pair, tablet *bench, packs []model.ID, cycle model.ID) {
	t.Helper()
	b := atD(t)
	b.compare(right...)
	packs, cycle = b.heldAt(needle)
	p = &pair{bench: b, states: [2]string{os.Getenv("MVUKE_STATE"), t.TempDir()}}
	b.check(b.d.Close())
	dir := t.TempDir()
	b.check(os.CopyFS(dir, os.DirFS(b.dir)))
	t.Setenv("MVUKE_STATE", p.states[1])
	tablet = &bench{t: t, dir: dir, clk: b.clk}
	tablet.open()
	p.tablet = tablet.d
	t.Cleanup(func() { tablet.d.Close() })
	t.Setenv("MVUKE_STATE", p.states[0])
	b.open()
	p.carry(p.tablet, b.d, false)
	b.clk.Pass(24 * time.Hour)
	return p, tablet, packs, cycle
}

var (
	right = []work.ComparePoint{{Shown: 60, True: 60}, {Shown: 130, True: 130}}
	high  = []work.ComparePoint{{Shown: 72, True: 60}, {Shown: 130, True: 118}}
)

// falls says that a load must not be freed: by what is known of it together it was never hot enough.
func (b *bench) falls(pack model.ID) {
	b.t.Helper()
	_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
	if err != nil && code(err) != "nothing-to-clear" {
		b.t.Fatal(err)
	}
	if a, err := b.d.Usable(pack); err != nil || a.Word == register.Usable {
		b.t.Errorf("the pack is %s %v", a.Word, err)
	}
}

func TestAttackASecondLookAtTheGaugeIsForgotten(t *testing.T) {
	t.Run("a load in doubt by five is not freed once the gauge was found twelve too high", func(t *testing.T) {
		b := atD(t)
		b.compare(right...)
		packs, _ := b.heldAt(138_000)
		b.clk.Pass(24 * time.Hour)
		b.compare(work.ComparePoint{Shown: 65, True: 60}, work.ComparePoint{Shown: 130, True: 125})
		b.clk.Pass(time.Hour)
		b.compare(high...) // somebody looks again, as one does
		b.falls(packs[0])
	})
}

func TestAttackOfTwoComparisonsTheWorstAtTheMarkCounts(t *testing.T) {
	t.Run("eleven too high at the mark is not hidden by twelve at the foot of the dial", func(t *testing.T) {
		p, tablet, packs, _ := twoAtD(t, 136_000)
		p.compare(work.ComparePoint{Shown: 72, True: 60}, work.ComparePoint{Shown: 133, True: 130})
		tablet.compare(work.ComparePoint{Shown: 63, True: 60}, work.ComparePoint{Shown: 141, True: 130})
		p.carry(p.tablet, p.d, false)
		p.falls(packs[0])
	})
}

func TestAttackCountedAtOnePointIsNotCountedAtAnother(t *testing.T) {
	t.Run("a plan that allowed eight low on the dial and one at the mark is in doubt by seven at the mark", func(t *testing.T) {
		b := atD(t)
		b.compare(work.ComparePoint{Shown: 68, True: 60}, work.ComparePoint{Shown: 131, True: 130})
		packs, _ := b.heldAt(133_000)
		b.clk.Pass(24 * time.Hour)
		b.compare(work.ComparePoint{Shown: 61, True: 60}, work.ComparePoint{Shown: 137.5, True: 130})
		b.falls(packs[0])
	})
}

func TestAttackTwoDevicesSettleHalfEach(t *testing.T) {
	t.Run("a load that stands by the gauge alone and by the altitude alone, and falls by both, is not usable", func(t *testing.T) {
		p, tablet, packs, cycle := twoAtD(t, 142_000)
		p.compare(high...)
		came, err := p.d.SettleDoubt(p.pot().ID, "compared")
		p.check(err)
		tablet.raise(2600)
		other, err := tablet.d.SettleDoubt(p.pot().ID, "surveyed")
		p.check(err)
		if came.Stood != 1 || other.Stood != 1 {
			t.Fatalf("%+v %+v", came, other)
		}
		p.carry(p.tablet, p.d, false)
		l, err := p.d.LookBack(cycle)
		p.check(err)
		if l.Stands {
			t.Fatalf("it stands by both: line %.2f", l.Now.Line)
		}
		if a, err := p.d.Usable(packs[0]); err != nil || a.Word == register.Usable {
			t.Errorf("by both it needed %.2f, it had 142, and its pack is %s %v", l.Now.Line, a.Word, err)
		}
	})
}

// raise settles the altitude by a survey.
func (b *bench) raise(m int64) {
	b.t.Helper()
	_, err := b.d.TellHeight(work.HeightForm{How: model.BySurvey, HeightM: m})
	b.check(err)
	all, err := b.d.Heights()
	b.check(err)
	for _, h := range all {
		if h.HeightM == m && !h.Present {
			b.check(b.d.SettleHeight(h))
			return
		}
	}
	b.t.Fatal("not among the ways")
}

func TestAttackTheDialsUnitIsPutRight(t *testing.T) {
	t.Run("points in bar are not read as kPa", func(t *testing.T) {
		b := atD(t)
		b.compare(right...)
		packs, _ := b.heldAt(131_000)
		b.clk.Pass(24 * time.Hour)
		a := demo.Answers("en") // the dial has two rings of figures; the other one is taken from now on
		a.Site, a.Pot, a.Gauge = b.place().Site, b.pot().Looks, b.pot().Gauge
		a.Gauge.Unit, a.Gauge.SpanMilli, a.Gauge.LineMilli = "bar", 2500, 10
		b.check(b.d.Correct(b.pot(), b.place(), a))
		b.compare(work.ComparePoint{Shown: 0.72, True: 0.60}, work.ComparePoint{Shown: 1.30, True: 1.18})
		if w, _ := b.d.Usable(packs[0]); w.Word != register.Held {
			t.Fatal(w.Word)
		}
		b.falls(packs[0])
	})
}

func TestAttackTheSerialIsPutRight(t *testing.T) {
	t.Run("a load lit by a mark that forgot what was found of its gauge is in doubt", func(t *testing.T) {
		b := atD(t)
		b.compare(high...)
		a := demo.Answers("en")
		a.Site, a.Pot, a.Gauge = b.place().Site, b.pot().Looks, b.pot().Gauge
		a.Gauge.Serial = "2270" // a slip of the pen
		b.check(b.d.Correct(b.pot(), b.place(), a))
		if b.plan().Frozen.RestartMilli > 136_000 {
			t.Skip("the mark still counts what was found")
		}
		packs, cycle := b.ranAt(137_000)
		if err := b.d.Release(cycle, ""); err == nil {
			t.Error("137 on a gauge found 12 too high, and it is released")
		}
		if w, _ := b.d.Usable(packs[0]); w.Word == register.Usable {
			t.Errorf("137 on a gauge found 12 too high, and the pack is %s", w.Word)
		}
	})
}

func TestAttackAComparisonWithoutPointsHidesTheTrueOne(t *testing.T) {
	for name, by := range map[string]func(*bench) *entry.Author{
		"a removed device": func(b *bench) *entry.Author { return b.gone(81) },
		"a recorder":       func(b *bench) *entry.Author { return b.other(82, true) },
	} {
		t.Run("by "+name, func(t *testing.T) {
			b := atD(t)
			b.compare(right...)
			packs, _ := b.heldAt(131_000)
			b.put(by(b), entry.Draft{Kind: model.KindCompared, Targets: []model.Ref{{Noun: model.NounGauge, ID: b.pot().Looks.Gauge}}, Payload: model.Compared{WorstPa: 90_000}})
			b.clk.Pass(24 * time.Hour)
			b.compare(high...)
			b.falls(packs[0])
		})
	}
}

func TestAttackTheAltitudeLooksBackWithLessThanIsNeeded(t *testing.T) {
	t.Run("a load below what the altitude needs does not stand", func(t *testing.T) {
		b := atD(t)
		b.compare(right...)
		packs, _ := b.heldAt(130_150)
		b.raise(2500)
		doubt, err := b.d.InDoubt(b.pot().ID)
		b.check(err)
		if len(doubt) != 1 {
			t.Fatal(len(doubt))
		}
		need := float64(b.plan().Frozen.NeedPa) / 1000
		if need < 130.2 {
			t.Fatal(need)
		}
		if doubt[0].Stands {
			t.Errorf("it had 130.15, %.2f is needed, judged by %.2f: it stands", need, doubt[0].Now.Line)
		}
		_ = packs
	})
}

func TestAttackLoweredAndStatedAnewAtOnce(t *testing.T) {
	t.Run("a load planned for less is in doubt once the higher altitude is settled", func(t *testing.T) {
		p, tablet, _, _ := twoAtD(t, 140_000)
		p.raise(2000) // lowered by a slip
		packs, _ := p.heldAt(p.plan().Frozen.MarkMilli)
		a := demo.Answers("en")
		a.Site, a.Pot, a.Gauge = tablet.place().Site, tablet.pot().Looks, tablet.pot().Gauge
		for range 3 {
			tablet.check(tablet.d.Correct(tablet.pot(), tablet.place(), a)) // says 2400 anew, knowing nothing of it
		}
		p.carry(p.tablet, p.d, false)
		all, err := p.d.Heights()
		p.check(err)
		for _, h := range all {
			if h.HeightM == 2400 {
				p.check(p.d.SettleHeight(h))
				break
			}
		}
		if got := p.place().Site.HeightM; got != 2400 {
			t.Fatal(got)
		}
		if a, err := p.d.Usable(packs[0]); err != nil || a.Word == register.Usable {
			t.Errorf("made at a mark for 2000 m, 2400 m is settled, and the pack is %s %v", a.Word, err)
		}
	})
}

func TestAttackALaterReadingOfALoadThatStood(t *testing.T) {
	t.Run("a load freed by what was known is not released again by its own plan", func(t *testing.T) {
		b := atD(t)
		b.compare(right...)
		packs, cycle := b.heldAt(142_000)
		b.clk.Pass(24 * time.Hour)
		b.compare(high...)
		came, err := b.d.SettleDoubt(b.pot().ID, "looked back")
		b.check(err)
		if came.Stood != 1 {
			t.Fatalf("%+v", came)
		}
		c, err := b.d.Cycle(cycle)
		b.check(err)
		at := c.Readings[len(c.Readings)/2].At + 60_000 // the tablet had looked, too
		b.put(b.manager(97), entry.Draft{Kind: model.KindReadings, Targets: []model.Ref{cref(cycle)},
			Payload: model.Readings{Source: model.Live, List: []model.Reading{{At: at, NeedleMilli: 135_000, Answer: model.Stayed}}}})
		l, err := b.d.LookBack(cycle)
		b.check(err)
		if l.Stands {
			t.Fatalf("it stands all the same, line %.2f", l.Now.Line)
		}
		if err := b.d.Release(cycle, ""); err != nil {
			t.Log(err)
		}
		if a, _ := b.d.Usable(packs[0]); a.Word == register.Usable {
			t.Errorf("the needle dipped to 135, %.1f was needed, and its pack is %s again", l.Now.Line, a.Word)
		}
	})
}
