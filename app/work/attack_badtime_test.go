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

func (p *pair) onTablet(do func()) {
	p.d, p.tablet = p.tablet, p.d
	do()
	p.d, p.tablet = p.tablet, p.d
}

func TestALateLoadOfTheBadTimeIsHeld(t *testing.T) {
	p := twoDevices(t)
	p.sterile(1)
	_, bad := p.sterile(1)
	p.carry(p.d, p.tablet, true)
	p.clk.Pass(time.Hour)
	var late []model.ID
	var lateOpen model.ID
	p.onTablet(func() {
		late, _ = p.sterile(1)
		lateOpen, _ = p.cycle(demo.Burn{Packs: 1, First: 70, Strip: true})
	})
	_, err := p.d.ReadSpore(p.spore(bad, zyear, true), model.SporeRead{Grew: true})
	p.check(err)
	p.zback()
	p.carry(p.tablet, p.d, true)
	if s := p.state(late[0]); s.Good() {
		t.Errorf("run on the tablet in the bad time, came after the pot was back: %s", s)
	}
	g, err := p.d.Gate(lateOpen)
	p.check(err)
	if g.Open() {
		t.Errorf("the same, not released yet: gate %v", stops(g))
	}
	p.check(p.tablet.Close())
}

func TestALateSlipOfTheBadTimeIsHeld(t *testing.T) {
	p := twoDevices(t)
	p.sterile(1)
	_, bad := p.sterile(1)
	p.carry(p.d, p.tablet, true)
	p.clk.Pass(5 * time.Hour)
	low := int64(130_000)
	var looks []work.SlipLook
	for m := 40.0; m <= 80; m += 4 {
		looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
	}
	var id model.ID
	var err error
	p.onTablet(func() {
		id, err = p.d.TypeIn(p.pot(), p.place().Site, work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 100), TestPack: true, WaterML: 2600}, Lit: p.clk.Wall.Add(-2 * time.Hour),
			VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91})
		p.check(err)
	})
	_, err = p.d.ReadSpore(p.spore(bad, zyear, true), model.SporeRead{Grew: true})
	p.check(err)
	p.zback()
	p.carry(p.tablet, p.d, true)
	g, err := p.d.Gate(id)
	p.check(err)
	if !slices.Contains(stops(g), "hold") {
		t.Errorf("a slip of the bad time, typed elsewhere: %v", stops(g))
	}
}

func TestASlipIsHeldWhereTheClearHadNoDate(t *testing.T) {
	b := desk(t)
	b.sterile(1)
	_, bad := b.sterile(1)
	b.clk.Pass(5 * time.Hour)
	lit := b.clk.Wall.Add(-2 * time.Hour)
	_, err := b.d.ReadSpore(b.spore(bad, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	for range 3 {
		b.zneg(b.spore(b.ztrial(), zyear, true))
	}
	b.reboot(time.Hour, time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC))
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
	b.reboot(time.Hour, lit.AddDate(0, 0, 20))
	low := int64(130_000)
	var looks []work.SlipLook
	for m := 40.0; m <= 80; m += 4 {
		looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
	}
	id, err := b.d.TypeIn(b.pot(), b.place().Site, work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 100), TestPack: true, WaterML: 2600}, Lit: lit,
		VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91})
	b.check(err)
	g, err := b.d.Gate(id)
	b.check(err)
	if !slices.Contains(stops(g), "hold") {
		t.Errorf("lit %v in the bad time, the clear signed in 2015: %v", lit, stops(g))
	}
}

func TestNegativesBeforeTheGrowthWasKnownProveNothing(t *testing.T) {
	p := twoDevices(t)
	_, bad := p.sterile(1)
	test := p.spore(bad, zyear, true)
	p.carry(p.d, p.tablet, true)
	p.onTablet(func() {
		for range 3 {
			p.zneg(p.spore(p.ztrial(), zyear, true))
		}
	})
	p.clk.Pass(time.Hour)
	_, err := p.d.ReadSpore(test, model.SporeRead{Grew: true})
	p.check(err)
	p.carry(p.tablet, p.d, true)
	if err := p.d.BackToService(p.pot(), "spore-grew", "x"); err == nil {
		t.Errorf("back in service at once: the pot was not lit since the growth was read; out %v", p.pot().Out)
	}
}

func TestHonestSlipsAfterAClearCanBeFreed(t *testing.T) {
	b := desk(t)
	_, bad := b.sterile(1)
	_, err := b.d.ReadSpore(b.spore(bad, zyear, true), model.SporeRead{Grew: true})
	b.check(err)
	for range 3 {
		b.zneg(b.spore(b.ztrial(), zyear, true))
	}
	now := b.clk.Wall
	b.reboot(time.Hour, now.AddDate(0, 0, 80))
	doubt := b.d.ClockDoubtful()
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal"))
	b.reboot(time.Hour, now.AddDate(0, 0, 10))
	b.check(b.d.AnswerDate(time.Time{}))
	low := int64(130_000)
	var looks []work.SlipLook
	for m := 40.0; m <= 80; m += 4 {
		looks = append(looks, work.SlipLook{Minute: m, Needle: 145_000, Lowest: &low})
	}
	id, err := b.d.TypeIn(b.pot(), b.place().Site, work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Packs: demo.Packs(1, 100), TestPack: true, WaterML: 2600}, Lit: b.clk.Wall.Add(-5 * time.Hour),
		VentFrom: 18, VentTo: 29, Looks: looks, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91})
	b.check(err)
	g, err := b.d.Gate(id)
	b.check(err)
	if !slices.Contains(stops(g), "hold") {
		t.Errorf("nothing shows that the slip is later than the clear (doubt %v): %v", doubt, stops(g))
	}
	b.check(b.d.ClearHold(cref(id), register.HoldBadTime, "the slips of these days lie beside the calendar of the ward"))
	if g, err = b.d.Gate(id); err != nil || slices.Contains(stops(g), "hold") {
		t.Errorf("an honest slip stays locked: %v, %v", stops(g), err)
	}
}
