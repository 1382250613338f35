package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// A wrong day is typed by mistake, one too early; the right one is said at the next start. What was sterilized that day by a good clock.
func TestAttack7AWrongDayPutRight(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	real := b.clk.Wall.Add(time.Hour)
	b.reboot(time.Hour, time.Date(2000, 1, 1, 9, 20, 0, 0, time.UTC))
	b.check(b.d.AnswerDate(real.Add(-20 * time.Hour))) // a day too early
	b.reboot(time.Hour, time.Date(2000, 1, 1, 9, 20, 0, 0, time.UTC))
	b.check(b.d.AnswerDate(real.Add(time.Hour)))
	b.reboot(time.Hour, real.Add(2*time.Hour))
	if s := b.state(packs[0]); s != work.ShelfReady {
		t.Errorf("the day was put right, and the pack is %s", s)
	}
}

// Two ways to describe the pot: the laptop says the vent limit, the tablet the water. Correcting the altitude alone takes neither away.
func TestAttack7CorrectTheAltitudeOnly(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 142_000)
	b := p.bench
	b.clk.Pass(time.Hour)
	pot := func(x *bench, f func(*model.Sterilizer)) {
		pl := x.place()
		a := work.Answers{Language: "en", Site: pl.Site, Pot: pl.Pots[0].Looks, Gauge: pl.Pots[0].Gauge, Person: model.Person{Name: "x"}}
		f(&a.Pot)
		x.check(x.d.Correct(pl.Pots[0], pl, a))
	}
	pot(b, func(s *model.Sterilizer) { s.LeastWaterML += 500 })
	pot(tablet, func(s *model.Sterilizer) { s.LeastWaterML += 900 })
	p.carry(p.tablet, b.d, false)
	cs, err := b.d.Clashes()
	b.check(err)
	b.correctSite(func(s *model.Site) { s.HeightM += 100 })
	cs2, err := b.d.Clashes()
	b.check(err)
	if len(cs2) < len(cs) {
		t.Error("only the altitude was corrected, and the pot's two descriptions are settled: water", b.pot().Looks.LeastWaterML)
	}
}

// The serial of the dial differs only; a dial that goes to 400 by the laptop and to 250 by the tablet: somebody takes the 250, then it is known that it is 400.
func TestAttack7DialTakenWrongly(t *testing.T) {
	p, tablet, packs, _ := twoAtD(t, 131_000)
	b := p.bench
	b.clk.Pass(time.Hour)
	b.correctGauge(func(g *model.GaugeLooks) { g.SpanMilli, g.LineMilli = 400_000, 10_000 })
	tablet.correctGauge(func(g *model.GaugeLooks) { g.Serial = "x2" })
	p.carry(p.tablet, b.d, false)
	cs, err := b.d.Clashes()
	b.check(err)
	b.clk.Pass(time.Hour)
	for _, c := range cs {
		if c.Code != "gauge" {
			continue
		}
		for _, v := range c.Values {
			for _, f := range v.Says {
				if f.Code == "span" && f.Value == "250 kPa" {
					b.check(b.d.SettleClash(c, v.ID))
				}
			}
		}
	}
	if _, err := b.d.SettleDoubt(b.pot().ID, "looked"); err != nil && code(err) != "nothing-to-clear" {
		t.Fatal(err)
	}
	two, _ := b.heldAt(131_000)
	b.clk.Pass(time.Hour)
	b.correctGauge(func(g *model.GaugeLooks) { g.SpanMilli, g.LineMilli = 400_000, 10_000 })
	if b.word(packs[0]) == register.Usable || b.word(two[0]) == register.Usable {
		t.Error("a dial that may be off by far more")
	}
	b.tablesHold()
}

// A load freed by the dial as it was put right; and then the class error: the height is raised.
