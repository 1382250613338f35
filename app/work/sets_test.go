package work_test

import (
	"testing"

	"mvuke/app/work"
	"mvuke/model"
)

func TestSetListsAreReadAsPeopleWriteThem(t *testing.T) {
	ps, err := work.ParsePieces("2 artery forceps\n cord scissors \n\n3x swabs\n1 bowl *\n", []string{"oil"})
	if err != nil || len(ps) != 4 {
		t.Fatalf("%v %v", ps, err)
	}
	want := []model.Piece{{Name: "artery forceps", Count: 2, Essential: true}, {Name: "cord scissors", Count: 1, Essential: true}, {Name: "swabs", Count: 3, Essential: true}, {Name: "bowl", Count: 1}}
	for i := range want {
		if ps[i] != want[i] {
			t.Errorf("%+v, not %+v", ps[i], want[i])
		}
	}
	again, err := work.ParsePieces(work.WritePieces(ps), nil)
	if err != nil || len(again) != 4 || again[3] != want[3] {
		t.Errorf("%v %v", again, err)
	}
	for text, refusal := range map[string]string{"1 paraffin oil": "piece-never", "900 swabs": "piece-count"} {
		if _, err := work.ParsePieces(text, []string{"oil"}); code(err) != refusal {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// Case 42, by the list: without an essential piece the set is not packed, without another it is, and the label says so.
func TestCase042EssentialPieces(t *testing.T) {
	b := desk(t)
	ps, _ := work.ParsePieces("1 cord scissors\n2 clamps\n1 cap *", nil)
	id, err := b.d.SaveSet(model.ID{}, model.SetList{Name: "Newborn", Pieces: ps})
	b.check(err)
	f := packForm("Newborn")
	f.List, f.Listed, f.Present, f.Counted, f.Without = id, 4, 3, true, "1 cord scissors"
	f.Short = []model.Short{{Piece: "cord scissors", Have: 0, Want: 1}}
	if _, _, err := b.d.MakePack(f); code(err) != "piece-essential" {
		t.Errorf("%v", err)
	}
	f.Without, f.Short = "1 cap", []model.Short{{Piece: "cap", Have: 0, Want: 1}}
	pack, _, err := b.d.MakePack(f)
	b.check(err)
	if p, _ := b.d.Pack(pack); p.Made.Present != 3 || p.Made.Without != "1 cap" {
		t.Errorf("%+v", p.Made)
	}
}

func TestSetListsAreStatedAnewAndRetired(t *testing.T) {
	b := desk(t)
	id, err := b.d.SaveSet(model.ID{}, model.SetList{Name: "Cord", Pieces: []model.Piece{{Name: "scissors", Count: 1}}})
	b.check(err)
	if _, err := b.d.SaveSet(model.ID{}, model.SetList{Name: "cord", Pieces: []model.Piece{{Name: "x", Count: 1}}}); code(err) != "name-taken" {
		t.Errorf("two lists of one name: %v", err)
	}
	_, err = b.d.SaveSet(id, model.SetList{Name: "Cord", Pieces: []model.Piece{{Name: "scissors", Count: 1}, {Name: "clamp", Count: 2}}})
	b.check(err)
	if s, err := b.d.Set(id); err != nil || s.List.Total() != 3 || s.Two {
		t.Errorf("%+v %v", s, err)
	}
	_, err = b.d.SaveSet(id, model.SetList{Name: "Cord", Pieces: []model.Piece{{Name: "scissors", Count: 1}}, Gone: true})
	b.check(err)
	if all, _ := b.d.Sets(); len(all) != 0 {
		t.Errorf("%+v", all)
	}
}
