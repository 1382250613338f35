package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// A load was rejected; a tablet that is taken out since before says that its packs were unwrapped. They lie on the shelf with turned tape.
func TestAttack6UnwrappedByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	packs, cycle := b.sterile(2)
	b.check(b.d.Reject(cycle, "thermometer"))
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	if !b.line("unwrap") {
		t.Fatal("not on Today")
	}
	for _, p := range packs {
		tablet.check(tablet.d.SpoilPack(p, model.SpoiltOpened))
	}
	x.carry(tablet, b)
	b.zsteal(since)
	if !b.line("unwrap") {
		t.Error("nobody whose word counts unwrapped them, and Today is silent; the pack is", b.state(packs[0]))
	}
}

// A strip of a commissioning cycle had not reached; that comes late. What was released because the pot was proven by it?
func TestAttack6ProvenNoMore(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyCommission, On: true, Value: 3, Source: "t"}))
	var trials []model.ID
	for range 3 {
		trials = append(trials, b.ztrial())
	}
	tablet := x.twin(b)
	x.carry(tablet, b)
	x.carry(b, tablet)
	tablet.check(tablet.d.Witnessed(trials[1], model.Witness{Kind: model.WitnessStrip, Reached: false}))
	packs, _ := b.sterile(1)
	x.carry(tablet, b)
	p, err := b.d.Proven(b.pot().ID)
	b.check(err)
	if !p.Done() && b.state(packs[0]) == work.ShelfReady {
		t.Error("the pot is not proven, and what was released because it was is ready")
	}
}

// A stolen tablet that is taken out writes one entry of the year 2100.
func TestAttack6TheYear2100(t *testing.T) {
	b := desk(t)
	b.sterile(1)
	a := b.gone(72)
	was := b.clk.Wall
	b.clk.Wall = time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC)
	b.put(a, entry.Draft{Kind: model.KindStock, Payload: model.StockTold{What: model.StockTape, Amount: 1, At: 1}})
	b.clk.Wall = was
	b.check(b.d.Close())
	b.open()
	if b.d.ClockDoubtful() {
		t.Error("the date is in doubt for 73 years, and nobody can say it")
	}
}
