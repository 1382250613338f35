package work_test

import (
	"testing"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// Case 38: opened under pressure is an incident of its cycle, and the load can never be released; told on the form, later, it ends a released load too.
func TestCase038OpenedUnderPressureOnTheForm(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(2)
	f := work.IncidentForm{Code: model.OpenedUnderPressure, Cycle: cycle, Needle: 20_000, Text: "lid came off at 20 kPa"}
	b.check(b.d.Report(f))
	if a, err := b.d.Usable(packs[0]); err != nil || a.Word != register.Held {
		t.Errorf("%s %v", a.Word, err)
	}
	list, err := b.d.IncidentList(10)
	if err != nil || len(list) != 1 || list[0].Cycle != cycle || list[0].Code != model.OpenedUnderPressure || !list[0].Known {
		t.Errorf("%+v %v", list, err)
	}
}

func TestIncidents(t *testing.T) {
	b := desk(t)
	packs, cycle := b.sterile(3)
	for want, f := range map[string]work.IncidentForm{
		"incident-what": {Code: "sneeze", Text: "x"}, "incident-text": {Code: model.Burn}, "incident-cycle": {Code: model.BoiledDry, Text: "x"},
		"incident-pack": {Code: model.UnsterileUse, Text: "x", Pack: "nowhere"}, "no-such-cycle": {Code: model.Burn, Text: "x", Cycle: model.ID{9}},
	} {
		if got := code(b.d.Report(f)); got != want {
			t.Errorf("%s: %q", want, got)
		}
	}
	b.check(b.d.Report(work.IncidentForm{Code: model.Burn, Text: "hand", Cycle: cycle}))
	b.check(b.d.Report(work.IncidentForm{Code: model.OtherIncident, Text: "dog in the yard"}))
	if b.state(packs[0]) != work.ShelfReady || b.pot().Out {
		t.Error("a burn says nothing of the load or the pot")
	}
	p, err := b.d.Pack(packs[1])
	b.check(err)
	b.check(b.d.Report(work.IncidentForm{Code: model.UnsterileUse, Text: "used before it was released", Pack: p.Label}))
	if b.state(packs[1]) == work.ShelfReady || b.state(packs[0]) != work.ShelfReady {
		t.Errorf("the pack itself %s, its neighbour %s", b.state(packs[1]), b.state(packs[0]))
	}
	for _, x := range []model.IncidentCode{model.LidTrouble, model.ValveBlocked, "of-a-newer-version"} {
		if !x.Bad() {
			t.Errorf("%s leaves the load as it was", x)
		}
	}
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 70, Strip: true})
	b.check(b.d.Report(work.IncidentForm{Code: model.LidTrouble, Text: "leaked all the way", Cycle: id}))
	if got := code(b.d.Release(id, "")); got != "gate.hold" {
		t.Errorf("a load whose lid leaked: %q", got)
	}
}
