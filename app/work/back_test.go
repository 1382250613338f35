package work_test

import (
	"testing"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

// A clinic's pack is called back and is out in a ward. The office cannot say that it came back, and an entry of it that says so, as another program may write, is not heard: the clinic is asked for it until it is
// found there.
func TestWhoDoesNotHoldAPackCannotSayThatItCameBack(t *testing.T) {
	x, b, _ := twoClinics(t)
	packs, load := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "wrong label", Loads: []model.ID{load}})
	b.check(err)
	b.check(b.d.SetAside(packs[1]))
	x.carry(b, x.office)
	if err := x.office.d.MovePack(packs[0], model.PackMoved{What: model.MoveBack}); code(err) != "pack-back-elsewhere" {
		t.Errorf("the office says that it came back: %v", err)
	}
	site, err := x.office.d.SiteID()
	b.check(err)
	x.office.put(x.office.own(), entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{pref(packs[0])}, Payload: model.PackMoved{What: model.MoveBack, Site: site, At: b.clk.Wall.UnixMilli()}})
	x.carry(x.office, b)
	for _, on := range []*bench{b.bench, x.office.bench} {
		r, err := on.d.Recall(id)
		b.check(err)
		if s := r.Square(packs[0]); s.At != work.AtIssued || s.Found {
			t.Errorf("it is %s, found %v", s.At, s.Found)
		}
	}
	if !b.line("recall") {
		t.Error("the clinic is not asked for it any more")
	}
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveBack}))
	x.carry(b, x.office)
	r, err := x.office.d.Recall(id)
	b.check(err)
	if s := r.Square(packs[0]); s.At != work.AtShelf {
		t.Errorf("came back to its clinic, and at the office it is %s", s.At)
	}
}
