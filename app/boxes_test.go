package app

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/assets"
	"mvuke/model"
)

// boxes are the questions that are asked over a screen: where, and what is tapped to open them (keys of the catalogue).
var boxes = []struct {
	name, place string
	id          func(s *stage) model.ID
	tap         string
}{
	{"move", screens.ToPack, readyPack, "pack.issue"}, {"use", screens.ToPack, readyPack, "pack.use.do"}, {"spoil", screens.ToPack, readyPack, "pack.spoil"},
	{"label", screens.ToPack, readyPack, "pack.label"}, {"spore", screens.ToTests, nil, "spore.new"}, {"valve", screens.ToTests, nil, "valve.new"},
	{"reference", screens.ToReferences, nil, "reference.new"}, {"height", screens.ToHeight, nil, "height.new"}, {"person", screens.ToPeople, nil, "who.add"},
	{"stop", screens.ToCycle, lastReleased, "cycle.stop"}, {"incident", screens.ToIncidents, nil, "incident.new"},
}

func readyPack(s *stage) model.ID { return s.ready().ID }

func lastReleased(s *stage) model.ID { return s.ids()[5] }

// Every question fits the smallest window, in every language and with words 40 % longer, and everything in it that is tapped lies in reach.
// MVUKE_SHOTS names a folder for a picture of each.
func TestBoxesFit(t *testing.T) {
	size := fyne.NewSize(1024, 600)
	for _, lang := range append(assets.Languages(), assets.Stretched) {
		s := open(t, lang, size)
		w := s.shell.stage.Words
		for _, b := range boxes {
			var id model.ID
			if b.id != nil {
				id = b.id(s)
			}
			s.d.Act(s.d.Acting())
			s.shell.Go(b.place, id)
			before := len(s.things)
			s.tap(w.Say(b.tap))
			if dir := os.Getenv("MVUKE_SHOTS"); dir != "" {
				f, err := os.Create(filepath.Join(dir, "box-"+b.name+"-"+lang+".png"))
				if err != nil {
					t.Fatal(err)
				}
				if err := png.Encode(f, s.win.Canvas().Capture()); err != nil {
					t.Fatal(err)
				}
				f.Close()
			}
			top := s.win.Canvas().Overlays().Top()
			if top == nil {
				if b.name != "incident" { // a page of its own
					t.Errorf("%s %s: no question is asked", b.name, lang)
				}
				continue
			}
			inside := 0
			for _, x := range s.things[before:] {
				if inside++; !x.o.Visible() {
					continue
				}
				if p, sz := s.at(x.o), x.o.Size(); p.X < -0.5 || p.X+sz.Width > size.Width+0.5 {
					t.Errorf("%s %s: %q lies from %.0f to %.0f", b.name, lang, x.text(), p.X, p.X+sz.Width)
				}
			}
			if inside < 2 {
				t.Errorf("%s %s: %d things to touch", b.name, lang, inside)
			}
			s.win.Canvas().Overlays().Remove(top)
		}
	}
}
