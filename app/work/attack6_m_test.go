package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
)

// Two comparisons put a load in doubt: by the one the line is higher, by the other, made with a coarse reference, less is guaranteed. The people that it was used on are listed by the worst.
func TestAttack6PatientsByTheLeastOfTwo(t *testing.T) {
	coarse := func(b *bench) {
		ref := b.reference("R8", 9900)
		b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: []work.ComparePoint{{Shown: 62, True: 60}, {Shown: 132, True: 130}}}))
	}
	fine := func(b *bench) {
		b.compare(work.ComparePoint{Shown: 63, True: 60}, work.ComparePoint{Shown: 133, True: 130})
	}
	for name, found := range map[string][]func(*bench){"fine": {fine}, "coarse": {coarse}, "both": {fine, coarse}} {
		b := atD(t)
		b.compare(right...)
		packs, cycle := b.heldAt(131_000)
		b.check(b.d.OpenPack(packs[0], packUse()))
		for _, f := range found {
			b.clk.Pass(24 * time.Hour)
			f(b)
		}
		l, err := b.d.LookBack(cycle)
		b.check(err)
		_, err = b.d.SettleDoubt(b.pot().ID, "looked")
		b.check(err)
		owed := 0
		all, err := b.d.Recalls()
		b.check(err)
		if len(all) > 0 {
			owed = all[0].Untold
		}
		if name == "both" && (!l.Patients() || owed == 0) {
			t.Error("by the coarse one alone the person is listed, by both not")
		}
	}
}

// Two gauges may have been on the pot: the old one, found 3 too high since, and another that nobody ever compared. By that one less is guaranteed than the district asks for.
func TestAttack6PatientsByTheOtherGauge(t *testing.T) {
	for _, both := range []bool{false, true} {
		p, tablet, _, _ := twoAtD(t, 142_000)
		b := p.bench
		b.compare(low...)
		p.carry(b.d, p.tablet, false)
		p.clk.Pass(48 * time.Hour)
		b.check(b.d.NewGauge(b.pot(), nine))
		p.clk.Pass(48 * time.Hour)
		packs, _ := tablet.heldAt(128_500) // has not heard of it
		tablet.check(tablet.d.OpenPack(packs[0], packUse()))
		p.carry(p.tablet, b.d, false)
		p.clk.Pass(time.Hour)
		if both {
			all, err := b.d.EarlierGauges(b.pot())
			b.check(err)
			b.check(b.d.Compare(all[0], b.place().Site, b.form(work.ComparePoint{Shown: 63, True: 60}, work.ComparePoint{Shown: 133, True: 130})))
		}
		_, err := b.d.SettleDoubt(b.pot().ID, "looked")
		b.check(err)
		r := b.recallOf()
		if both && r.Untold == 0 {
			t.Error("by the other gauge alone the person is listed; by both not")
		}
	}
}
