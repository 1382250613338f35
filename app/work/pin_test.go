package work_test

import (
	"bytes"
	"testing"

	"mvuke/app/demo"
	"mvuke/model"
)

// A PIN tells who tapped the name; it is never asked while a pot is lit, and never stored as it is.
func TestPINIsForAttribution(t *testing.T) {
	b := desk(t)
	chief := b.d.Acting()
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	for _, bad := range []string{"123", "123456789", "12a4", "1 34"} {
		if code(b.d.SetPIN(nurse, bad)) != "pin-form" {
			t.Errorf("%q was taken for a PIN", bad)
		}
	}
	b.d.Act(nurse)
	b.check(b.d.SetPIN(nurse, "4711")) // one's own
	if code(b.d.SetPIN(chief, "0000")) != "in-charge-only" {
		t.Error("a recorder gave the one in charge a PIN")
	}
	if p := b.d.Person(nurse); p.Name != "Neema" || len(p.Roles) != 1 || bytes.Contains(p.PIN, []byte("4711")) {
		t.Errorf("%+v", p)
	}
	if !b.d.NeedsPIN(nurse) || b.d.NeedsPIN(chief) {
		t.Error("asked of the wrong one")
	}
	if code(b.d.TryPIN(nurse, "4712")) != "pin-wrong" || b.d.TryPIN(nurse, "4711") != nil {
		t.Error("the PIN does not tell them apart")
	}
	b.d.Act(chief)
	id, _ := b.cycle(demo.Burn{Packs: 1, First: 1, Strip: true, StopAfter: 8})
	if b.d.NeedsPIN(nurse) {
		t.Error("a lit pot waits for a PIN")
	}
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.Aborted, Reason: "test"}))
	b.check(b.d.SetPIN(nurse, "")) // forgotten: the one in charge takes it off
	if b.d.NeedsPIN(nurse) {
		t.Error("taken off, and asked")
	}
}
