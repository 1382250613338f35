package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
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
