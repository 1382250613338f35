package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// How far the altitude may be off, stated differently at once.
func TestAltitudeWithinTwoValues(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	say := func(h house, how model.HeightHow, within int64) {
		p := h.place()
		a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
		a.Site.How, a.Site.WithinM = how, within
		h.check(h.d.Correct(p.Pots[0], p, a))
	}
	say(b, model.ByMap, 200)
	tablet.sterile(1)
	say(tablet, model.BySurvey, 10)
	alone := func(h house) model.FrozenPlan {
		p, err := h.d.Plan(h.pot(), h.place().Site, model.Wrapped, nil)
		h.check(err)
		return p.Frozen
	}
	lb, _ := alone(b), alone(tablet)
	x.carry(tablet, b)
	m := alone(b)
	if m.LowPa > lb.LowPa {
		t.Error("of two statements the narrower counts")
	}
}
