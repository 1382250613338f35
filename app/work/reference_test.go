package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam"
)

// A reference whose own check is due, or that nobody stated, compares nothing; its error counts in the dial's unit, whatever its own is.
func TestReferenceIsAnInstrumentOfItsOwn(t *testing.T) {
	b := desk(t)
	f := b.good()
	_, err := b.d.SaveReference(f.With, model.Reference{Name: "R1", Unit: "kPa", ErrorMilli: 1500, Certificate: "C-1", Due: b.clk.Wall.AddDate(0, 1, 0).UnixMilli()})
	b.check(err)
	b.clk.Pass(40 * 24 * time.Hour)
	if got := code(b.d.Compare(b.pot(), b.place().Site, f)); got != "reference-overdue" {
		t.Fatalf("%q", got)
	}
	id, err := b.d.SaveReference(f.With, model.Reference{Name: "R1", Unit: "bar", ErrorMilli: 20, Certificate: "C-2", Due: b.clk.Wall.AddDate(0, 6, 0).UnixMilli()})
	b.check(err)
	if id != f.With {
		t.Error("checked again, it became another instrument")
	}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	if p.Gauge.ReferenceError != 2 || p.Gauge.Standing != steam.Compared { // 0.02 bar on a dial in kPa
		t.Errorf("%v %v", p.Gauge.ReferenceError, p.Gauge.Standing)
	}
	vs, err := b.d.Store.ByKind(model.KindCompared)
	b.check(err)
	var c model.Compared
	if len(vs) != 1 || vs[0].Body().Decode(&c) != nil || c.Reference != f.With {
		t.Errorf("%d comparisons, with %v", len(vs), c.Reference)
	}
	b.d.Close()
	b.clk.Reboot(-10 * 365 * 24 * time.Hour)
	b.open()
	if got := code(b.d.Compare(b.pot(), b.place().Site, f)); got != "reference-overdue" {
		t.Errorf("nobody knows the date: %q", got)
	}
}

func TestReferencesThatCannotBe(t *testing.T) {
	b := desk(t)
	good := model.Reference{Name: "R", Unit: "kPa", ErrorMilli: 1000, Certificate: "C", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()}
	for want, change := range map[string]func(r *model.Reference){
		"reference-name":        func(r *model.Reference) { r.Name = " " },
		"unit":                  func(r *model.Reference) { r.Unit = "hands" },
		"reference-error":       func(r *model.Reference) { r.ErrorMilli = 0 },
		"reference-certificate": func(r *model.Reference) { r.Certificate = "" },
		"reference-due":         func(r *model.Reference) { r.Due = b.clk.Wall.AddDate(9, 0, 0).UnixMilli() },
	} {
		r := good
		change(&r)
		if _, err := b.d.SaveReference(model.ID{}, r); code(err) != want {
			t.Errorf("%s: %v", want, err)
		}
	}
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	b.d.Act(nurse)
	if _, err := b.d.SaveReference(model.ID{}, good); code(err) != "in-charge-only" {
		t.Error(err)
	}
}

// Case 60: a gauge that reads low within its class. No load is held for it; the mark is corrected, and the card on the wall no longer holds.
func TestCase060ReadsLow(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	_, _, err := b.d.MakeCard(b.pot(), b.place().Site, model.Wrapped)
	b.check(err)
	f := b.good()
	f.Points = []work.ComparePoint{{Shown: 124, True: 129}, {Shown: 50, True: 53}}
	b.check(b.d.Compare(b.pot(), b.place().Site, f))
	if b.state(packs[0]) != work.ShelfReady || b.pot().Out {
		t.Error("a gauge that reads low held what was too hot, not too cool")
	}
	if _, old, err := b.d.CardStale(b.pot(), b.place().Site); err != nil || !old {
		t.Errorf("the card on the wall still holds: %v", err)
	}
}
