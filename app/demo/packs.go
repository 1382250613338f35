package demo

import (
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// sets of the demo clinic with their pieces.
var sets = []struct {
	name   string
	pieces int64
	wrap   model.Wrap
}{{"delivery", 6, model.WrapCloth}, {"dressing", 4, model.WrapPaper}, {"suture", 7, model.WrapCloth}, {"dressing", 4, model.WrapPaper}, {"forceps", 2, model.WrapPouch}, {"cord", 3, model.WrapCloth}}

// lists puts the clinic's set lists in.
func lists(d *work.Desk) error {
	for name, text := range map[string]string{
		"delivery": "1 cord scissors\n2 artery forceps\n1 bowl *\n2 drapes", "dressing": "1 dissecting forceps\n1 artery forceps\n2 swabs",
		"suture": "1 needle holder\n1 toothed forceps\n1 stitch scissors\n2 artery forceps\n2 drapes", "cord": "1 cord scissors\n2 clamps"} {
		pieces, err := work.ParsePieces(text, nil)
		if err != nil {
			return err
		}
		if _, err := d.SaveSet(model.ID{}, model.SetList{Name: name, Pieces: pieces}); err != nil {
			return err
		}
	}
	return nil
}

// packed packs n sets, as a person does, and lists them for a load.
func packed(d *work.Desk, n int) (out []model.LoadPack, err error) {
	var labels []string
	for i := range n {
		x := sets[i%len(sets)]
		_, number, err := d.MakePack(work.PackForm{Set: x.name, Present: x.pieces, Listed: x.pieces, Wrap: x.wrap, Washes: int64(7 * i), Tape: true, Strip: true})
		if err != nil {
			return nil, err
		}
		labels = append(labels, number.Text)
	}
	return d.LoadOf(labels)
}

// live lets the packs of the first loads be used, lent and torn.
func live(d *work.Desk, clk *Clock) error {
	ps, err := d.OnShelf(100)
	if err != nil {
		return err
	}
	var ready []model.ID
	for _, p := range ps {
		if p.State.Good() {
			ready = append(ready, p.ID)
		}
	}
	for i, do := range []func(model.ID) error{
		func(id model.ID) error { return d.MovePack(id, model.PackMoved{What: model.MoveStored, To: "A2"}) },
		func(id model.ID) error {
			return d.MovePack(id, model.PackMoved{What: model.MoveIssued, To: "maternity"})
		},
		func(id model.ID) error { return used(d, clk, id) },
		func(id model.ID) error { return d.MovePack(id, model.PackMoved{What: model.MoveLent, To: "Kimbala"}) },
		func(id model.ID) error { return d.SpoilPack(id, model.SpoiltTorn) },
	} {
		if i >= len(ready) {
			break
		}
		if err := do(ready[i]); err != nil {
			return err
		}
		clk.Pass(20 * time.Minute)
	}
	return nil
}

// used is a pack that went out, was opened, and was counted back.
func used(d *work.Desk, clk *Clock, id model.ID) error {
	if err := d.MovePack(id, model.PackMoved{What: model.MoveIssued, To: "maternity"}); err != nil {
		return err
	}
	clk.Pass(50 * time.Minute)
	if err := d.OpenPack(id, work.UseForm{Outside: true, Strip: model.StripReached, Number: "1187"}); err != nil {
		return err
	}
	clk.Pass(90 * time.Minute)
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	return d.CountBack(id, model.SetCounted{Present: p.Made.Present, Listed: p.Made.Listed})
}

// spores are a spore test that was read, and one that waits.
func spores(d *work.Desk, clk *Clock) error {
	ids, err := d.LatestCycles(3)
	if err != nil || len(ids) < 3 {
		return err
	}
	good := clk.Wall.AddDate(1, 0, 0).UnixMilli()
	read, err := d.PlaceSpore(ids[2], model.SporePlaced{Lot: "S-204", Expires: good, Control: true})
	if err != nil {
		return err
	}
	clk.Pass(49 * time.Hour)
	if _, err := d.ReadSpore(read, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57}); err != nil {
		return err
	}
	_, err = d.PlaceSpore(ids[0], model.SporePlaced{Lot: "S-204", Expires: good, Control: true, SentTo: "Kimbala"})
	return err
}
