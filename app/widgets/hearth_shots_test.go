package widgets

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// Nothing may be cut off at the edge, whatever moves and however high.
func TestHearthStaysInItsFrame(t *testing.T) {
	for tick := range 60 {
		for _, s := range []HearthSpec{{1, 1, 1, false, 1, true, 1, 1, tick}, {1, 1, 1, true, 1, true, 1, 1, tick}, {1, 1, 1, false, 1, false, 1, 1, tick}} {
			img := hearthPicture(s, hearthWide, hearthTall)
			for i := range hearthTall {
				x, y := min(i, hearthWide-1), i
				for _, q := range []image.Point{{x, 0}, {0, y}, {hearthWide - 1, y}} {
					if img.RGBAAt(q.X, q.Y).A != 0 {
						t.Fatal(s, q)
					}
				}
			}
		}
	}
}

// TestHearthShots writes pictures for people to look at, as TestShots does.
func TestHearthShots(t *testing.T) {
	dir := os.Getenv("MVUKE_SHOTS")
	if dir == "" {
		t.Skip("MVUKE_SHOTS is not set")
	}
	for name, s := range map[string]HearthSpec{
		"cold":     {Water: 0.8},
		"lit":      {Flame: 0.25, Embers: 0.2, Lid: true, Water: 0.8, Draught: 1, Tick: 4},
		"splutter": {Flame: 0.7, Embers: 0.5, Jet: 0.6, Broken: true, Lid: true, Water: 0.7, Draught: 0.7, Tick: 9},
		"steady":   {Flame: 0.45, Embers: 0.9, Jet: 0.7, Lid: true, Water: 0.5, Draught: 0.35, Tick: 14},
		"harm":     {Flame: 1, Embers: 1, Jet: 1, Relief: 1, Lid: true, Water: 0.1, Draught: 1, Tick: 20},
		"open":     {Flame: 0.3, Embers: 0.6, Jet: 0.7, Water: 0.4, Draught: 0.2, Tick: 25},
		"out":      {Embers: 0.35, Jet: 0.05, Relief: 0.05, Lid: true, Water: 0.03},
	} {
		for _, size := range []fyne.Size{{Width: 220, Height: 230}, {Width: 500, Height: 400}} {
			w := open(t, NewHearth(s), size.Width, size.Height)
			f, err := os.Create(filepath.Join(dir, "hearth-"+name+"-"+number(float64(size.Width))+".png"))
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(f, w.Canvas().Capture()); err != nil {
				t.Error(err)
			}
			f.Close()
		}
	}
}

// BenchmarkHearth is a change and its drawing, and then the same with the
// whole window put together from it.
func BenchmarkHearth(b *testing.B) {
	test.NewTempApp(b).Settings().SetTheme(NewTheme(nil, nil, 1))
	h := NewHearth(demoHearth())
	w := test.NewTempWindow(b, h)
	w.SetPadded(false)
	w.Resize(fyne.NewSquareSize(300))
	face := test.WidgetRenderer(h).(*hearthRenderer).face
	s := HearthSpec{1, 1, 1, true, 1, true, 0.1, 0.5, 0}
	for name, draw := range map[string]func(){
		"face":   func() { face.Generator(300, 300) },
		"window": func() { w.Canvas().Capture() },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				s.Tick++
				h.SetSpec(s)
				draw()
			}
		})
	}
}
