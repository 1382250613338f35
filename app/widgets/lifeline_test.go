package widgets

import (
	"image"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

// lifeAt shows a line at a width and gives it the height it asks for.
func lifeAt(t *testing.T, knots []Knot, width, scale float32) *LifeLine {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(NewTheme(nil, nil, scale))
	l := NewLifeLine(knots)
	w := test.NewTempWindow(t, NewColumn(l))
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, 3000))
	return l
}

// inkOf is where the letters of a text are: its box is wider than they.
func inkOf(t *canvas.Text) (left, right, top, bottom float32) {
	wide := textWidth(t.Text, t.TextSize, t.TextStyle.Bold)
	left = t.Position().X + (t.Size().Width-wide)/2
	return left, left + wide, t.Position().Y, t.Position().Y + t.Size().Height
}

func TestLifeLineFits(t *testing.T) {
	for _, scale := range []float32{0.8, 1, 1.5} {
		for _, width := range []float32{320, 760, 1000} {
			before := float32(-1)
			for _, n := range []int{0, 1, 7, 14} {
				l := lifeAt(t, demoLife(n, func(int) {}), width, scale)
				if l.Size().Width > width || l.MinSize().Width > width || l.Size().Height != l.MinSize().Height {
					t.Error(n, width, scale, "size:", l.Size(), l.MinSize())
				}
				if h := l.MinSize().Height; h < before || n == 0 && h != 0 || n == 1 && h < touch() {
					t.Error(n, width, scale, "height:", h, before)
				}
				before = l.MinSize().Height
				lifeClear(t, l, n)
			}
		}
	}
}

// lifeClear fails if anything lies outside the line or on something else.
func lifeClear(t *testing.T, l *LifeLine, n int) {
	t.Helper()
	r := test.WidgetRenderer(l).(*lifeRenderer)
	var texts []*canvas.Text
	for _, o := range r.Objects() {
		if !o.Visible() {
			continue
		}
		at, size := o.Position(), o.Size()
		if at.X < 0 || at.Y < 0 || at.X+size.Width > l.Size().Width+0.1 || at.Y+size.Height > l.Size().Height+0.1 {
			t.Errorf("%d knots, outside: %T %v %v", n, o, at, size)
		}
		if text, ok := o.(*canvas.Text); ok && text.Text != "" {
			texts = append(texts, text)
		}
	}
	for i, a := range texts {
		left, right, top, bottom := inkOf(a)
		if left < 0 || right > l.Size().Width {
			t.Error(n, "beyond the width:", a.Text)
		}
		for _, b := range texts[i+1:] {
			l2, r2, t2, b2 := inkOf(b)
			if left < r2+1 && l2 < right+1 && top < b2-0.1 && t2 < bottom-0.1 {
				t.Error(n, "overlap:", a.Text, "/", b.Text)
			}
		}
		for _, row := range r.plan.rows {
			if top < row.line+r.plan.ring && bottom > row.line-r.plan.ring {
				t.Error(n, "on the line:", a.Text)
			}
		}
	}
	for i, p := range r.plan.words {
		if i > 0 && p.x > r.plan.words[i-1].x && p.x < r.plan.words[i-1].x+r.plan.cell-0.1 {
			t.Error(n, "cells overlap:", i)
		}
	}
}

func TestLifeLineHasRows(t *testing.T) {
	for _, c := range []struct{ n, width, rows int }{
		{1, 320, 1}, {7, 320, 4}, {14, 320, 7}, {7, 760, 1}, {14, 760, 3}, {7, 1000, 1}, {14, 1000, 2},
	} {
		l := lifeAt(t, demoLife(c.n, nil), float32(c.width), 1)
		if r := test.WidgetRenderer(l).(*lifeRenderer); len(r.plan.rows) != c.rows {
			t.Error(c, len(r.plan.rows))
		}
	}
	l := lifeAt(t, demoLife(7, nil), 1000, 1)
	one := l.MinSize().Height
	if four := heightAt(l, 320); four < 3*one {
		t.Error("narrow:", one, four)
	}
	l.SetKnots(demoLife(1, nil))
	if h := l.MinSize().Height; h > one {
		t.Error("after most are gone:", h)
	}
}

func TestLifeLineActs(t *testing.T) {
	var watched []string
	Watch = func(_ fyne.CanvasObject, text, _ func() string) { watched = append(watched, text()) }
	defer func() { Watch = nil }()
	var got []int
	l := lifeAt(t, demoLife(7, func(i int) { got = append(got, i) }), 320, 1)
	if strings.Join(watched, "|") != "round 241|came back" {
		t.Error("watched:", watched)
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(l)
	for _, i := range []int{1, 4} {
		s := l.spots[i]
		if s.Size().Width < 56 || s.Size().Height < 56 {
			t.Error("too small:", s.Size())
		}
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(s)
		test.TapCanvas(c, at.AddXY(s.Size().Width/2, s.Size().Height/2)) // the circle and the words lie over it
	}
	c.Unfocus()
	c.FocusNext()
	key(c.Focused(), fyne.KeyReturn)
	key(c.Focused(), fyne.KeyRight)
	key(c.Focused(), fyne.KeyEnter)
	if len(got) != 4 || got[0] != 1 || got[1] != 4 || got[2] != 1 || got[3] != 4 {
		t.Error(got)
	}
	last := l.spots[4]
	l.SetKnots(demoLife(14, func(i int) { got = append(got, 100+i) }))
	if c.Focused() != fyne.Focusable(last) {
		t.Error("the focus is lost when a line grows")
	}
	l.SetKnots(demoLife(1, nil))
	key(last, fyne.KeyReturn)
	if c.Focused() != nil || len(got) != 4 {
		t.Error("a knot that is gone:", c.Focused(), got)
	}
}

func TestLifeLineIsRead(t *testing.T) {
	l := NewLifeLine([]Knot{{Title: "a", When: "b", Detail: "c\nd"}, {Title: "e"}, {}, {When: "f", Harm: true}})
	if s := l.AccessibilityLabel(); s != "a, b, c d; e; f" {
		t.Error(s)
	}
}

// With every colour but the ground turned to black, what a knot is must still
// be seen.
func TestLifeLineKnotsDifferWithoutColour(t *testing.T) {
	ink := func(k Knot) (all int, mid bool) {
		p := &pen{img: image.NewRGBA(image.Rect(0, 0, 60, 60)), scale: 1}
		paintKnot(p, k, Point{30, 30}, lifeRing)
		for y := range 60 {
			for x := range 60 {
				if c := p.img.RGBAAt(x, y); c.A > 127 && Contrast(c, Paper) > 3 {
					all++
				}
			}
		}
		c := p.img.RGBAAt(30, 30)
		return all, c.A > 127 && Contrast(c, Paper) > 3
	}
	plain, open := ink(Knot{})
	now, filled := ink(Knot{Now: true})
	harm, full := ink(Knot{Harm: true})
	both, _ := ink(Knot{Harm: true, Now: true})
	if open || !filled || !full {
		t.Error("filled:", open, filled, full)
	}
	if now-plain < 100 || harm-now < 40 || both != harm {
		t.Error("forms:", plain, now, harm, both)
	}
}
