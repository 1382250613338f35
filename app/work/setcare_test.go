package work_test

import (
	"strings"
	"testing"

	"mvuke/model"
)

// Pieces go to repair and come back; no more comes back than went.
func TestPiecesAtRepair(t *testing.T) {
	b := desk(t)
	id, err := b.d.SaveSet(model.ID{}, model.SetList{Name: "delivery", Pieces: []model.Piece{{Name: "artery forceps", Count: 2, Essential: true}, {Name: "bowl", Count: 1}}})
	b.check(err)
	tell := func(what model.SetChange, piece string, n int64) string {
		return code(b.d.TellSetCare(id, model.SetCare{What: what, Piece: piece, Count: n}))
	}
	for want, got := range map[string]string{
		"set-piece": tell(model.PieceToRepair, "spoon", 1), "piece-count": tell(model.PieceToRepair, "bowl", 2), "set-change": tell("polished", "bowl", 1), "set-not-away": tell(model.PieceBack, "bowl", 1),
	} {
		if got != want {
			t.Errorf("%s: %q", want, got)
		}
	}
	if tell(model.PieceToRepair, "artery forceps", 1) != "" || tell(model.PieceRetired, "bowl", 1) != "" || tell(model.PieceReplaced, "bowl", 1) != "" {
		t.Fatal("refused")
	}
	s, err := b.d.SetStory(id)
	b.check(err)
	if s.Away["artery forceps"] != 1 || len(s.Events) != 3 || s.Events[0].What != model.PieceReplaced {
		t.Errorf("%+v", s)
	}
	if tell(model.PieceBack, "artery forceps", 2) != "set-not-away" || tell(model.PieceBack, "artery forceps", 1) != "" {
		t.Error("more came back than went")
	}
}

// What is too heavy, too long or too tightly filled is said at packing and before the fire; what was not measured is not judged.
func TestLimitsOfAPack(t *testing.T) {
	b := desk(t)
	f := packForm("drapes")
	warn := func() string { w, err := b.d.Warnings(f); b.check(err); return strings.Join(w, " ") }
	if warn() != "" {
		t.Errorf("not measured: %s", warn())
	}
	f.MassG, f.SidesMM = 5500, []int64{500, 300, 320} // 48 l, 114.6 kg/m3: just within 12 lb and 7.2 lb/ft3
	if warn() != "" {
		t.Errorf("at the limits: %s", warn())
	}
	f.MassG = 5600
	if warn() != model.PolicyPackMass+" "+model.PolicyPackDensity {
		t.Errorf("100 g more: %s", warn())
	}
	f.SidesMM = []int64{510, 400, 400}
	if warn() != model.PolicyPackMass+" "+model.PolicyPackLength {
		t.Errorf("10 mm longer: %s", warn())
	}
	id, n, err := b.d.MakePack(f)
	b.check(err)
	load, err := b.d.LoadOf([]string{n.Text})
	b.check(err)
	w, err := b.d.LoadWarnings(append(load, model.LoadPack{Label: "not known here"}))
	if err != nil || len(w) != 2 || w[0][0] != n.Text || load[0].ID != id {
		t.Errorf("%v %v", w, err)
	}
	for want, bad := range map[string]func(){"pack-sides": func() { f.SidesMM = []int64{300, 200} }, "pack-mass": func() { f.MassG = 40_000 }} {
		keep := f
		bad()
		if got := code(f.Check()); got != want {
			t.Errorf("%s: %q", want, got)
		}
		f = keep
	}
}

// A piece that is never found stays on Today until the one in charge closes the search by name; a later count that misses one opens it again.
func TestSearchForAMissingPieceIsClosedByName(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 6}))
	missing := func() (n int) {
		ls, err := b.d.Today()
		b.check(err)
		for _, l := range ls {
			if l.Code == "piece-missing" {
				n++
			}
		}
		return n
	}
	if missing() != 1 {
		t.Fatal("not on Today")
	}
	nurse, err := b.d.AddPerson(model.Person{Name: "Neema", Roles: []model.Role{model.RoleRecorder}})
	b.check(err)
	chief := b.d.Acting()
	b.d.Act(nurse)
	if code(b.d.PieceLost(packs[0], "gone")) != "in-charge-only" {
		t.Error("a recorder closed the search")
	}
	b.d.Act(chief)
	if code(b.d.PieceLost(packs[0], " ")) != "reason-missing" {
		t.Error("closed without a reason")
	}
	b.check(b.d.PieceLost(packs[0], "clinician told, X-ray clear, laundry searched"))
	if missing() != 0 {
		t.Error("closed, and still on Today")
	}
	if code(b.d.PieceLost(packs[0], "again")) != "nothing-missing" {
		t.Error("closed twice")
	}
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 4, Listed: 6}))
	if missing() != 1 {
		t.Error("another piece is missing, and nobody is told")
	}
}

// A search is closed only by a device with authority, and only for the count that it names.
func TestForeignWordDoesNotCloseASearch(t *testing.T) {
	b := desk(t)
	packs, _ := b.sterile(1)
	b.check(b.d.OpenPack(packs[0], packUse()))
	b.check(b.d.CountBack(packs[0], model.SetCounted{Present: 5, Listed: 6}))
	p, err := b.d.Pack(packs[0])
	b.check(err)
	b.put(b.other(7, true), draftLost(packs[0], p))
	if p, err = b.d.Pack(packs[0]); err != nil || !p.Missing() {
		t.Error("a device that may only record closed the search")
	}
}
