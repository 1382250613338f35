package work_test

import (
	"testing"
	"time"

	"mvuke/model/register"
)

// The clock of the laptop stands a month ahead, and nobody noticed. It tells that another gauge was screwed on, which shows 12 too much; the tablet has not heard of it and lights two days later.
func TestAttack6SwapToldByALaptopAhead(t *testing.T) {
	for _, ahead := range []time.Duration{0, 30 * 24 * time.Hour} {
		p, tablet, _, _ := twoAtD(t, 136_000)
		p.clk.Pass(48 * time.Hour)
		p.clk.Wall = p.clk.Wall.Add(ahead)
		p.swap()
		p.compare(twelveAt...)
		p.clk.Wall = p.clk.Wall.Add(-ahead)
		p.clk.Pass(48 * time.Hour)
		under, load := tablet.heldAt(131_000)
		p.clk.Pass(time.Hour)
		p.clk.Wall = p.clk.Wall.Add(ahead)
		p.carry(p.tablet, p.d, false)
		_, err := p.d.LookBack(load)
		p.check(err)
		came, err := p.d.SettleDoubt(p.pot().ID, "looked")
		if err != nil && code(err) != "dates-first" {
			t.Fatal(err)
		}
		if w := p.word(under[0]); w == register.Usable {
			t.Errorf("ahead %v: watched by a gauge that shows 12 too much, 131: %+v %s", ahead, came, w)
		}
	}
}

// The same; afterwards it is noticed, and the date is said. Now the register itself knows that the load was not lit before, and what freed it stands.
func TestAttack6FreedByAClockThatIsSetRight(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 136_000)
	ahead := 30 * 24 * time.Hour
	p.clk.Pass(48 * time.Hour)
	p.clk.Wall = p.clk.Wall.Add(ahead)
	p.swap()
	p.compare(twelveAt...)
	p.clk.Wall = p.clk.Wall.Add(-ahead)
	p.clk.Pass(48 * time.Hour)
	under, load := tablet.heldAt(131_000)
	p.clk.Pass(time.Hour)
	p.clk.Wall = p.clk.Wall.Add(ahead)
	p.carry(p.tablet, p.d, false)
	if _, err := p.d.SettleDoubt(p.pot().ID, "looked"); code(err) != "dates-first" {
		t.Fatal(err)
	}
	if _, err := p.d.SettleByDates(p.pot().ID, "both clocks are right"); err != nil { // they are not, and nobody knows
		t.Fatal(err)
	}
	if w := p.word(under[0]); w != register.Usable {
		t.Fatal("somebody answered for the dates, and it is", w)
	}
	p.check(p.d.Close())
	p.clk.Wall = p.clk.Wall.Add(-ahead)
	p.open()
	p.check(p.d.AnswerDate(time.Time{}))
	p.clk.Wall = p.clk.Wall.Add(3 * time.Hour)
	l, err := p.d.LookBack(load)
	p.check(err)
	if w := p.word(under[0]); w == register.Usable && !l.Stands {
		t.Errorf("by what is known now it falls, and it is %s; in-doubt on Today: %v", w, p.line("in-doubt"))
	}
}
