package widgets

import (
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

func demoItems() []RailItem {
	var out []RailItem
	for _, s := range []string{"First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh"} {
		out = append(out, RailItem{Text: s})
	}
	return out
}

func demoCurve() CurveSpec {
	return CurveSpec{
		Ideal: []Point{{0, 0}, {27, 0}, {37, 120}, {69, 120}, {75, 0}, {83, 0}},
		Real:  []Point{{0, 0}, {17, 0}, {26, 0}, {30, 45}, {34, 100}, {37, 121}, {40, 130}, {44, 127}, {48, 119}, {52, 115}, {56, 112}},
		Level: 107, Bead: 10, Gaps: []int{7},
		Steps: []StepMark{{2, "load", false}, {10, "light", false}, {21, "wait 11 min", false}, {32, "rise", false},
			{56, "hold", true}, {60, "too near", false}, {72, "let out", false}, {80, "dry", false}},
	}
}

// demo is a page much like a real one: a rail, a curve, a dial and buttons.
func demo(rail *Rail) fyne.CanvasObject {
	if rail == nil {
		rail = NewRail("Title", demoItems())
	}
	rail.Select(1)
	rail.SetFooter(NewFoot("small word", "A. Name", nil))
	curve := NewCurve(demoCurve())
	curve.SetTall(130)
	left := container.NewBorder(nil, NewColumn(NewStrong("keep it there").SetColor(Blue).SetAlign(fyne.TextAlignCenter)), nil, nil,
		NewDial(demoDial(), func(float64) {}))
	right := NewColumn(
		container.NewHBox(NewBig("17", 56, Ink, true), NewBig("of 30 minutes", 20, Ink, false)),
		NewNotice(Amber, "A short sentence", "and a longer one that explains a little more of what is meant, over two lines"),
		NewFlow(120, NewButton("first line\nsecond", Do, nil), NewButton("stop", Harm, nil), NewButton("look away", Do, nil)),
		NewFlow(120, NewButton("Something else", Plain, nil), NewButton("Quiet", Quiet, nil)),
	)
	body := container.NewBorder(NewColumn(NewBig("A title of the page · and more", 20, Ink, true), curve), nil, nil, nil,
		NewScroll(NewSplit(left, right, 0.38, 640)))
	bar := NewBar(demoItems())
	bar.Select(1)
	return NewShell(rail, bar, NewInset(20, 14, body), 700)
}

func demoRows() fyne.CanvasObject {
	long := "A sentence of some length that has to go into two lines when the window is narrow: does it?"
	rows := NewColumn(NewBig("A title · Tuesday 12 May", 22, Ink, true),
		NewRow(Octagon, Vermilion, "STOP", long, "answer now", nil),
		NewRow(Disc, Blue, "NOW", "Something is ready and waits", "go there", nil),
		NewRow(Square, Green, "SOON", "Use first: three end on Thursday", "show them", nil),
		NewRow(Triangle, InkSoft, "LOOK", "Two counts differ: 6 and 5", "settle", nil),
		NewRow(Diamond, Ink, "NOTE", "A diamond", "", nil),
		NewRow(Check, Green, "DONE", "All in order", "see", nil),
		NewRow(Cross, Vermilion, "FAILED", "Not in order", "see", nil))
	rail, bar := NewRail("Title", demoItems()), NewBar(demoItems())
	rail.Select(0)
	bar.Select(0)
	return NewShell(rail, bar, NewInset(20, 14, NewScroll(rows)), 700)
}

func demoForm() fyne.CanvasObject {
	wrong := NewField("Number on the label", "hint", nil)
	wrong.SetText("AB-0417")
	wrong.SetError("There is no such number here; look at it again")
	off, pad := NewButton("Disabled", Do, nil), NewNumPad("OK", nil, nil)
	off.Disable()
	quiet := NewButton("Disabled", Quiet, nil)
	quiet.Disable()
	pad.SetText("131.5")
	left := NewColumn(NewField("Name", "a hint", nil), wrong,
		NewChoice([]string{"black", "not quite black", "pale", "no answer to this at all, a longer text"}, 1, nil),
		NewFlow(100, off, quiet, NewButton("Plain", Plain, nil)),
		NewPara("Usual text that wraps when there is not enough room for all of it in one line of the column."),
		NewSoft("Small soft text."), NewCard(NewStrong("Strong text in a card")))
	right := NewColumn(pad, NewNotice(Vermilion, "Only a title", ""))
	return container.NewStack(canvas.NewRectangle(Paper), NewInset(20, 14, NewScroll(NewSplit(left, right, 0.6, 700))))
}

// TestShots writes pictures for people to look at; set MVUKE_SHOTS to a folder.
func TestShots(t *testing.T) {
	dir := os.Getenv("MVUKE_SHOTS")
	if dir == "" {
		t.Skip("MVUKE_SHOTS is not set")
	}
	for _, c := range []struct {
		name        string
		build       func() fyne.CanvasObject
		w, h, scale float32
		tabs        int
		ask         bool
	}{
		{"page", func() fyne.CanvasObject { return demo(nil) }, 1024, 600, 1, 0, false},
		{"page-focus", func() fyne.CanvasObject { return demo(nil) }, 1024, 600, 1, 9, false},
		{"page-large", func() fyne.CanvasObject { return demo(nil) }, 1024, 600, 1.5, 1, false},
		{"page-narrow", func() fyne.CanvasObject { return demo(nil) }, 600, 1024, 1, 10, false},
		{"rows", demoRows, 1024, 600, 1, 1, false},
		{"rows-narrow", demoRows, 480, 800, 1, 2, false},
		{"rows-large", demoRows, 1024, 600, 1.5, 0, false},
		{"form", demoForm, 1024, 600, 1, 5, false},
		{"form-narrow", demoForm, 600, 1024, 1.25, 1, false},
		{"ask", func() fyne.CanvasObject { return demo(nil) }, 1024, 600, 1, 1, true},
		{"ask-large", demoForm, 800, 600, 1.5, 1, true},
		{"form-large", demoForm, 1024, 600, 1.5, 7, false},
	} {
		test.NewTempApp(t).Settings().SetTheme(NewTheme(nil, nil, c.scale))
		w := test.NewTempWindow(t, c.build())
		w.SetPadded(false)
		w.Resize(fyne.NewSize(c.w, c.h))
		for range c.tabs {
			w.Canvas().FocusNext()
		}
		if c.ask {
			Ask(w, "Take it away for good?", "What happens then is told here in a sentence or two, so that nobody is surprised."+strings.Repeat(" It may be long.", int(c.scale*40-39)), "Take away", "Leave it", nil)
		}
		f, err := os.Create(filepath.Join(dir, c.name+".png"))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(f, w.Canvas().Capture()); err != nil {
			t.Error(err)
		}
		f.Close()
	}
}
