package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The packs of a recall are "torn" or "unwrapped" by the word of a device that is taken out since before: nobody whose word counts has seen them, and they are in the maternity.
func TestAttack6RecallFoundByARemovedDevice(t *testing.T) {
	for _, how := range []string{"spoilt", "opened, not used"} {
		t.Run(how, func(t *testing.T) {
			x := newDistrictOf(t, "Clinic B")
			b := x.clinics[0]
			x.join(b)
			packs, cycle := b.sterile(2)
			for _, p := range packs {
				b.check(b.d.MovePack(p, model.PackMoved{What: model.MoveIssued, To: "maternity"}))
			}
			b.grows(cycle)
			tablet := x.twin(b)
			x.carry(tablet, b)
			b.clk.Pass(time.Hour)
			since := b.clk.Wall
			b.clk.Pass(time.Hour)
			for _, p := range packs {
				if how == "spoilt" {
					tablet.check(tablet.d.SpoilPack(p, model.SpoiltTorn))
				} else {
					tablet.check(tablet.d.OpenPack(p, work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true}))
				}
			}
			x.carry(tablet, b)
			b.zsteal(since)
			r := b.recallOf()
			err := b.d.CloseRecall(r.ID, "")
			if r.Found > 0 || err == nil {
				t.Errorf("found %d of %d, %v; ends without a reason: %v", r.Found, r.Total, r.Sum, err)
			}
		})
	}
}

// Of a load that was planned by one removed device somebody freed it by the altitude of a second, which is taken out too.
func TestAttack6FreedByAnAltitudeOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0] // 1200 m
	x.join(b)
	b.correctGauge(func(g *model.GaugeLooks) { g.LineMilli, g.ClassMilli = 1000, 1000 })
	tablet, second := x.twin(b), x.twin(b)
	x.carry(tablet, b)
	x.carry(second, b)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	lower := func(h house, m int64) {
		p := h.place()
		a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
		a.Site.HeightM, a.Site.How, a.Site.WithinM = m, model.BySurvey, 10
		h.check(h.d.Correct(p.Pots[0], p, a))
	}
	lower(tablet, 200)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	packs, cycle := b.heldAt(112_000)
	b.zstealOne(since, tablet)
	if w := b.word(packs[0]); w != register.Held {
		t.Fatal(w)
	}
	x.carry(b, second)
	lower(second, 400)
	x.carry(second, b)
	_, err := b.d.SettleDoubt(b.pot().ID, "by 400 m")
	b.check(err)
	b.zstealOne(since, second)
	l, err := b.d.LookBack(cycle)
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable && !l.Stands {
		t.Errorf("site at %d m needs %d; by that it falls, and it is %s; in-doubt %v", b.place().Site.HeightM, b.plan().Frozen.NeedPa, w, b.line("in-doubt"))
	}
	b.tablesHold()
}

// The altitude was lowered by a device of which a copy writes beside it: from there on its word counts no more for the good.
func TestAttack6LoweredByACopiedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0] // 1200 m
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	_ = b.plan().Frozen.NeedPa
	b.clk.Pass(time.Hour)
	a := tablet.own()
	seq := tablet.d.Acts() + 1
	p := tablet.place()
	ans := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	ans.Site.HeightM, ans.Site.How, ans.Site.WithinM = 200, model.BySurvey, 10
	tablet.check(tablet.d.Correct(p.Pots[0], p, ans))
	tablet.check(tablet.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 15, Source: "letter"}))
	x.carry(tablet, b)
	packs, cycle := b.sterile(1)
	b.forkAt(a, seq)
	c, err := b.d.Cycle(cycle)
	b.check(err)
	now := b.plan().Frozen
	if w := b.word(packs[0]); w == register.Usable && c.Begun.Plan.NeedPa+300 < now.NeedPa {
		t.Errorf("planned for %d, needed %d by what counts; for %d minutes, asked %d: %s", c.Begun.Plan.NeedPa, now.NeedPa, c.Begun.Plan.Minutes, now.Minutes, w)
	}
	b.tablesHold()
}

// The unit of the dial is put wrong by a device that is taken out.
func TestAttack6UnitByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.correctGauge(func(g *model.GaugeLooks) { g.Unit, g.SpanMilli, g.LineMilli, g.ClassMilli = "kgf/cm2", 2500, 10, 1000 })
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.correctGauge(func(g *model.GaugeLooks) { g.Unit = "bar" })
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	packs, cycle := b.heldAt(b.plan().Frozen.RestartMilli)
	b.zsteal(since)
	b.correctGauge(func(g *model.GaugeLooks) { g.Unit = "kgf/cm2" })
	c, err := b.d.Cycle(cycle)
	b.check(err)
	now := b.plan().Frozen
	_, err = b.d.SettleDoubt(b.pot().ID, "the altitude is as it was")
	b.check(err)
	_, err = b.d.Usable(packs[0])
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable {
		t.Errorf("held at %d %s, line now %d %s: %s", c.Begun.Plan.RestartMilli, c.Begun.Plan.Unit, now.RestartMilli, now.Unit, w)
	}
	b.tablesHold()
}
