package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestButtonActsOnce(t *testing.T) {
	n := 0
	b := NewButton("Go\non", Do, func() { n++ })
	w := open(t, b, 300, 100)
	test.Tap(b)
	if n != 1 || w.Canvas().Focused() != fyne.Focusable(b) {
		t.Fatal("tap:", n)
	}
	key(b, fyne.KeyReturn)
	key(b, fyne.KeyEnter)
	if n != 3 {
		t.Fatal("enter:", n)
	}
	key(b, fyne.KeySpace) // a space comes as a key and as a letter
	b.TypedRune(' ')
	if n != 4 {
		t.Fatal("space:", n)
	}
	b.Disable()
	key(b, fyne.KeyReturn)
	test.Tap(b)
	if n != 4 {
		t.Fatal("disabled:", n)
	}
}

func TestHeldKeyDoesNotRepeat(t *testing.T) {
	n := 0
	b := NewButton("Go", Do, func() { n++ })
	other := NewButton("Other", Do, func() { n += 100 })
	open(t, NewColumn(b, other), 300, 200)
	defer func() { keysTold = false }()
	enter := &fyne.KeyEvent{Name: fyne.KeyReturn}
	b.KeyDown(enter)
	for range 5 {
		b.TypedKey(enter)
	}
	other.TypedKey(enter) // still the same press, the focus has moved on
	b.KeyUp(enter)
	b.KeyDown(enter)
	b.TypedKey(enter)
	if n != 2 {
		t.Fatal(n)
	}
}

func TestTouchSizes(t *testing.T) {
	for _, scale := range []float32{0.8, 1, 1.5} {
		test.NewTempApp(t).Settings().SetTheme(NewTheme(nil, nil, scale))
		least := 56 * max(1, scale)
		objs := map[string]fyne.CanvasObject{
			"button": NewButton("x", Plain, nil), "quiet": NewButton("", Quiet, nil),
			"choice": NewChoice([]string{"a", "b"}, 0, nil),
			"row":    NewRow(Disc, Blue, "a", "b", "c", nil), "key": newPadKey("1", false, nil),
			"rail item": newRailItem("x", false, nil), "bar item": newRailItem("x", true, nil),
			"foot": NewFoot("a", "b", nil), "field": NewField("a", "b", nil),
		}
		for name, o := range objs {
			if s := o.MinSize(); s.Height < least || s.Width < 56 {
				t.Errorf("%s at %v: %v", name, scale, s)
			}
		}
	}
}

func TestEverythingFitsASmallWindow(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(NewTheme(nil, nil, 1.5))
	o := demo(nil)
	if s := o.MinSize(); s.Width > 1024 || s.Height > 600 {
		t.Error(s)
	}
}

func TestChoice(t *testing.T) {
	var got []int
	c := NewChoice([]string{"one", "two", "three"}, 1, func(i int) { got = append(got, i) })
	w := open(t, c, 600, 100)
	test.Tap(c.tiles[2])
	w.Canvas().Focus(c.tiles[0])
	key(c.tiles[0], fyne.KeyReturn)
	key(c.tiles[0], fyne.KeyRight)
	if w.Canvas().Focused() != fyne.Focusable(c.tiles[1]) {
		t.Error("arrow key")
	}
	if len(got) != 2 || got[0] != 2 || got[1] != 0 || c.Selected != 0 {
		t.Error(got, c.Selected)
	}
	c.SetSelected(7)
	if c.Selected != -1 || len(got) != 2 {
		t.Error("out of range")
	}
	wide := c.MinSize().Height
	w.Resize(fyne.NewSize(170, 400))
	if c.MinSize().Height < 3*56 || wide > 60 {
		t.Error("wrapping:", wide, c.MinSize())
	}
	c.Disable()
	test.Tap(c.tiles[1])
	if c.Selected != -1 {
		t.Error("disabled")
	}
}

func TestFocusScrollsIntoSight(t *testing.T) {
	var objs []fyne.CanvasObject
	for range 12 {
		objs = append(objs, NewButton("x", Plain, nil))
	}
	w := open(t, NewShell(NewRail("", nil), NewBar(nil), NewScroll(NewColumn(objs...)), 500), 300, 240)
	for i := range objs {
		w.Canvas().FocusNext()
		d := fyne.CurrentApp().Driver()
		y := d.AbsolutePositionForObject(objs[i]).Y
		if w.Canvas().Focused() != objs[i].(fyne.Focusable) || y < 0 || y+objs[i].Size().Height > 240 {
			t.Error(i, y)
		}
	}
	w.Canvas().FocusNext()
	if y := fyne.CurrentApp().Driver().AbsolutePositionForObject(objs[0]).Y; y != 0 {
		t.Error("back at the top:", y)
	}
}

func TestRowAndRail(t *testing.T) {
	n := 0
	r := NewRow(Square, Green, "SOON", "A sentence that goes on for some time", "show", func() { n++ })
	w := open(t, r, 800, 66)
	if r.MinSize().Height != 66 {
		t.Error(r.MinSize())
	}
	test.Tap(r)
	key(r, fyne.KeyReturn)
	if n != 2 {
		t.Error(n)
	}
	w.Resize(fyne.NewSize(300, 200))
	if r.MinSize().Height <= 66 {
		t.Error("no second line at a narrow width")
	}
	rail := NewRail("T", []RailItem{{"a", func() { n = 10 }}, {"b", func() { n = 20 }}})
	open(t, rail, 132, 300)
	rail.Select(0)
	test.Tap(rail.items[1])
	if n != 20 || !rail.items[1].on || rail.items[0].on {
		t.Error("rail", n)
	}
}
