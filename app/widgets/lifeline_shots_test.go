package widgets

import (
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

// demoLife is a line with short, usual and far too long words.
func demoLife(n int, tapped func(i int)) []Knot {
	all := []Knot{
		{Title: "begun", When: "2 May", Detail: "6 of 6"}, {Title: "round 241", When: "2 May", Detail: "shown"},
		{Title: "let go", When: "3 May", Detail: "one test, tape, dry"}, {Title: "sent", When: "4 May", Detail: "to a far place"},
		{Title: "came back", When: "7 May 2026, 14:05", Detail: "closed"},
		{Title: "opened", When: "9 May", Detail: "strip good, reg. 1187, and a little more than can be told in three lines"},
		{Title: "counted", When: "9 May", Detail: "5 of 6", Harm: true},
		{Title: "Unquestionably", When: "10 May", Detail: "one long word"}, {Title: "", When: "11 May", Detail: "no title"},
		{Title: "a title of many words that go on", When: "12 May", Detail: ""}, {Title: "told", When: "", Detail: ""},
		{Title: "round 255", When: "13 May", Detail: "shown"}, {Title: "harm", When: "14 May", Detail: "again", Harm: true},
		{Title: "kept", When: "15 May", Detail: "on a shelf", Now: true},
	}
	out := all[:min(n, len(all))]
	for i := range out {
		if tapped != nil && i%3 == 1 {
			out[i].Tapped = func() { tapped(i) }
		}
	}
	return out
}

// TestLifeShots writes pictures for people to look at, as TestShots does.
func TestLifeShots(t *testing.T) {
	dir := os.Getenv("MVUKE_SHOTS")
	if dir == "" {
		t.Skip("MVUKE_SHOTS is not set")
	}
	for _, n := range []int{1, 7, 14} {
		for _, width := range []float32{320, 760, 1000} {
			for _, scale := range []float32{1, 1.5} {
				test.NewTempApp(t).Settings().SetTheme(NewTheme(nil, nil, scale))
				l := NewLifeLine(demoLife(n, func(int) {}))
				w := test.NewTempWindow(t, container.NewWithoutLayout(l))
				w.SetPadded(false)
				l.Resize(fyne.NewSize(width, heightAt(l, width)))
				w.Resize(fyne.NewSize(width, l.Size().Height))
				w.Canvas().FocusNext()
				f, err := os.Create(filepath.Join(dir, fmt.Sprintf("life-%d-%v-%v.png", n, width, scale)))
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
}
