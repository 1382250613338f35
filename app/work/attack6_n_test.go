package work_test

import (
	"testing"

	"mvuke/app/work"
	"mvuke/model"
)

// The office calls back a load of B and one of C; C says that it has seen packs of B, which are in B's maternity, and that the clinician was told of one used there.
func TestAttack6SeenByAnotherClinic(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	packs, load := b.sterile(3)
	_, other := c.sterile(1)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.check(b.d.OpenPack(packs[2], packUse()))
	x.carry(b, x.office)
	x.carry(c, x.office)
	id, err := x.office.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load, other}})
	b.check(err)
	x.carry(x.office, c)
	x.carry(x.office, b)
	_ = c.d.TellRecall(id, model.SoughtSeen, []model.ID{packs[1]}, "")
	_ = c.d.TellRecall(id, model.SoughtClinician, []model.ID{packs[2]}, "Dr")
	x.carry(c, x.office)
	x.carry(x.office, b)
	for _, h := range []house{x.office, b} {
		r, err := h.d.Recall(id)
		h.check(err)
		if q := r.Square(packs[1]); q != nil && q.Found {
			t.Errorf("%s: a pack in the maternity of B is found, by the word of C", h.name)
		}
		if q := r.Square(packs[2]); q != nil && (q.Told || !q.Owed) {
			t.Errorf("%s: the clinician of B was told, by the word of C", h.name)
		}
	}
}

// C says that a pack of B, which is in B's maternity, is torn.
func TestAttack6SpoiltByAnotherClinic(t *testing.T) {
	x := newDistrictOf(t, "Clinic B", "Clinic C")
	b, c := x.clinics[0], x.clinics[1]
	x.join(b)
	x.join(c)
	x.carry(x.office, b)
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
	b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "tape", Loads: []model.ID{load}})
	b.check(err)
	x.carry(b, x.office)
	x.carry(x.office, c)
	_ = c.d.SpoilPack(packs[1], model.SpoiltTorn)
	_ = c.d.OpenPack(packs[1], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true})
	x.carry(c, x.office)
	x.carry(x.office, b)
	r, err := b.d.Recall(id)
	b.check(err)
	if q := r.Square(packs[1]); q != nil && q.Found {
		t.Errorf("a pack in the maternity of B is %s and found, by the word of C", q.At)
	}
}
