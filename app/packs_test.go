package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
)

// Packing a set of which all is there takes a few taps: the set, all there, the wrap, tape and strip, done.
func TestPackingTakesAFewTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	s.shell.Go(screens.ToSets, model.ID{})
	s.shell.stage.StarterSets()
	if sets, err := s.d.Sets(); err != nil || len(sets) < 10 {
		t.Fatalf("%d set lists, %v", len(sets), err)
	}
	before, err := s.d.OnShelf(500)
	if err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToPacks, model.ID{})
	taps := []string{"Pack a set", "Minor operation", "All pieces are there", "cloth, two layers", "tape and strip", "Packed: give it a number"}
	for _, x := range taps {
		s.tap(x)
	}
	after, err := s.d.OnShelf(500)
	if err != nil || len(after) != len(before)+1 || len(taps) > 12 {
		t.Fatalf("%d packs, %d before; %d taps", len(after), len(before), len(taps))
	}
	text := words(s.win.Canvas().Overlays().Top())
	if !strings.Contains(text, "NDV-A00") {
		t.Errorf("the number is not shown: %s", text)
	}
}

// A number typed or scanned opens its pack; one scan and one tap issue it.
func TestAScanOpensThePack(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	ps, err := s.d.OnShelf(500)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		if p.State.Good() && !p.Out() {
			s.shell.Go(screens.ToPack, p.ID)
			s.tap("Issue")
			if text := words(s.win.Canvas().Overlays().Top()); !strings.Contains(text, p.Label) {
				t.Errorf("the box does not name the pack: %s", text)
			}
			return
		}
	}
	t.Fatal("the demo has no pack that is ready")
}

// A set of fifty pieces is packed in a few taps when all is there; when it comes back one short, the first question is whether the piece was counted, and the
// clinician's line stands on Today.
func TestFiftyPiecesThereAndBack(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	list := model.SetList{Name: "big tray"}
	for i := range 25 {
		list.Pieces = append(list.Pieces, model.Piece{Name: "piece " + string(rune('a'+i)), Count: 2, Essential: true})
	}
	set, err := s.d.SaveSet(model.ID{}, list)
	if err != nil {
		t.Fatal(err)
	}
	s.shell.Go(screens.ToPacks, model.ID{})
	taps := []string{"Pack a set", "big tray", "All pieces are there", "cloth, two layers", "tape and strip", "Packed: give it a number"}
	for _, x := range taps {
		s.tap(x)
	}
	if len(taps) > 12 {
		t.Errorf("%d taps", len(taps))
	}
	ps, err := s.d.FindPacks("big tray", 5)
	if err != nil || len(ps) != 1 || ps[0].Made.Present != 50 {
		t.Fatal(len(ps), err)
	}
	top := s.win.Canvas().Overlays().Top()
	s.win.Canvas().Overlays().Remove(top)
	if err := s.d.OpenPack(ps[0].ID, work.UseForm{Outside: true, Strip: model.StripReached, Number: "12", Anyway: true}); err != nil {
		t.Fatal(err)
	}
	if hand, err := s.d.InHand(set); err != nil || len(hand) != 0 {
		t.Errorf("used, and in hand: %v %v", hand, err)
	}
	s.shell.Go(screens.ToPack, ps[0].ID)
	s.tap("Count it back")
	s.tap("2 piece c")
	s.tap("No, or nobody knows")
	p, err := s.d.Pack(ps[0].ID)
	if err != nil || !p.Missing() || p.Counted.Present != 49 || p.Counted.Listed != 50 || len(p.Counted.Short) != 1 || p.Counted.Short[0].Piece != "piece c" {
		t.Errorf("%+v %v", p.Counted, err)
	}
	lines, err := s.d.Today()
	if err != nil || lines[0].Code != "piece-missing" && lines[1].Code != "piece-missing" {
		t.Errorf("%+v %v", lines, err)
	}
}
