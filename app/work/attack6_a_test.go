package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// A comparison by a device that is taken out since before had vouched for the loads before it: the next one, which found the gauge far off, leaves them out of doubt all the same.
func TestAttack6VouchedByARemovedDevice(t *testing.T) {
	p, tablet, packs, cycle := twoAtD(t, 142_000)
	b := p.bench
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.compare(right...)
	p.carry(p.tablet, b.d, false)
	b.clk.Pass(time.Hour)
	b.compare(eighteen...)
	if w := b.word(packs[0]); w != register.Usable {
		t.Fatalf("vouched for: %s", w)
	}
	b.zsteal(since)
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("only a device that is taken out since before had vouched for it; the gauge shows 18 too much; it is %s, in-doubt on Today: %v, codes %v", w, b.line("in-doubt"), l.Codes)
	}
	b.tablesHold()
}

// Another gauge was on the pot, and whoever lit did not know. It was freed by what the tablet had found of that gauge; the tablet is taken out since before it compared.
func TestAttack6SwappedFreedByARemovedDevice(t *testing.T) {
	p, tablet, _, _ := twoAtD(t, 142_000)
	b := p.bench
	b.compare(low...)
	p.carry(b.d, p.tablet, false)
	p.clk.Pass(48 * time.Hour)
	b.check(b.d.NewGauge(b.pot(), model.GaugeLooks{Serial: "9", Unit: "kPa", SpanMilli: 250_000, LineMilli: 1000, ClassMilli: 4000}))
	p.clk.Pass(time.Hour)
	under, load := tablet.heldAt(128_500) // has not heard of it
	p.carry(p.tablet, b.d, false)
	p.carry(b.d, p.tablet, false)
	if w := b.word(under[0]); w != register.Held {
		t.Fatal(w)
	}
	p.clk.Pass(time.Hour)
	since := b.clk.Wall
	p.clk.Pass(time.Hour)
	tablet.compare(low...)
	p.carry(p.tablet, b.d, false)
	_, err := b.d.SettleDoubt(b.pot().ID, "looked")
	b.check(err)
	p.clk.Pass(time.Hour)
	b.zsteal(since)
	l, err := b.d.LookBack(load)
	b.check(err)
	if l.Stands {
		t.Error("by what counts it stands")
	}
	if w := b.word(under[0]); w == register.Usable {
		t.Errorf("freed by the word of a device that is taken out since before; by what counts it falls, and it is %s; Today in-doubt %v", w, b.line("in-doubt"))
	}
	b.tablesHold()
}

// The rule that asks for a strip in every load was switched off by a device that is taken out since before.
func TestAttack6NoWitnessByRuleOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.SetPolicy(model.Policy{Code: model.PolicyWitness, On: false, Source: "letter"}))
	x.carry(tablet, b)
	id := b.burnt(work.BeginForm{Packs: demoPacks(2, 1)}, 135_000, 36)
	checks, err := demoChecks(b.d, id)
	b.check(err)
	b.check(b.d.Unload(id, checks, true))
	b.check(b.d.Release(id, ""))
	b.zsteal(since)
	rules, err := b.d.Rules()
	b.check(err)
	if w := word(b.bench, id); rules.On(model.PolicyWitness) && w == register.Usable {
		t.Errorf("no strip was ever looked at, the rule that let it go counts no more, and it is %s", w)
	}
	b.tablesHold()
}
