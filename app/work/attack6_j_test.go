package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
	"mvuke/steam"
)

// The laptop puts the altitude right upwards, the tablet gives the pot another name at once. Both stand; then somebody corrects the name once more.
func TestAttack6ARenameSettlesTheAltitude(t *testing.T) {
	for _, ahead := range []string{"laptop", "tablet"} {
		t.Run(ahead, func(t *testing.T) {
			x := newDistrictOf(t, "Clinic B")
			b := x.clinics[0] // 1200 m
			x.join(b)
			b.correctGauge(func(g *model.GaugeLooks) { g.LineMilli, g.ClassMilli = 1000, 1000 })
			tablet := x.twin(b)
			x.carry(tablet, b)
			b.clk.Pass(time.Hour)
			if ahead == "tablet" {
				tablet.sterileOrNot()
			} else {
				b.sterileOrNot()
			}
			b.correctSite(func(s *model.Site) { s.HeightM, s.How, s.WithinM = 1600, model.BySurvey, 10 })
			tablet.renamed("by the window")
			b.clk.Pass(time.Hour)
			x.carry(tablet, b)
			x.carry(b, tablet)
			high := b.plan().Frozen.NeedPa
			b.renamed("kitchen")
			now := b.plan().Frozen.NeedPa
			if now+300 < high {
				t.Errorf("the name of the pot was corrected; what is needed fell from %d to %d, and Today says nothing: %v", high, now, !b.line("heights"))
				packs, _ := b.heldAt(b.plan().Frozen.RestartMilli)
				if b.word(packs[0]) == register.Usable {
					t.Error("a load that is run by the lower altitude is usable")
				}
			}
		})
	}
}

func (b *bench) correctSite(change func(*model.Site)) {
	b.t.Helper()
	p := b.place()
	a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	change(&a.Site)
	b.check(b.d.Correct(p.Pots[0], p, a))
}

// renamed gives the pot a name under Setup, Correct, where the height is shown, and how it is known is asked anew: from a map, if nobody says otherwise.
func (b *bench) renamed(name string) {
	b.t.Helper()
	p := b.place()
	a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	a.Pot.Name = name
	a.Site.How, a.Site.WithinM = model.ByMap, int64(steam.MapWithin)
	b.check(b.d.Correct(p.Pots[0], p, a))
}
