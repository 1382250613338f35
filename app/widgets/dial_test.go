package widgets

import (
	"math"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"
)

var nan = math.NaN()

func demoDial() DialSpec {
	return DialSpec{Span: 250, Line: 10, Unit: "kPa", Mark: 140, Restart: 125, Limit: 170, Needle: 131}
}

func TestDialAngle(t *testing.T) {
	for v, want := range map[float64]float64{0: -135, 125: 0, 250: 135, 300: 135, -5: -135} {
		if got := DialAngle(v, 0, 250); got != want {
			t.Error(v, got)
		}
	}
	if DialValue(170, 0, 250) != 250 || DialValue(190, 0, 250) != 0 || DialValue(-170, 0, 250) != 0 {
		t.Error("open part")
	}
}

func TestDialRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := rapid.Float64Range(-100, 100).Draw(t, "start")
		span := start + rapid.Float64Range(0.1, 1e6).Draw(t, "wide")
		v := start + (span-start)*rapid.Float64Range(0, 1).Draw(t, "part")
		if got := DialValue(DialAngle(v, start, span), start, span); math.Abs(got-v) > 1e-9*(span-start)+1e-9 {
			t.Fatal(v, got)
		}
	})
}

func TestDialLabels(t *testing.T) {
	for _, c := range []struct {
		span, line, step float64
	}{{250, 10, 50}, {4, 0.1, 1}, {30, 1, 5}, {100, 2, 20}, {400, 10, 100}, {2.5, 0.05, 0.5}, {60, 2, 10}} {
		s := DialSpec{Span: c.span, Line: c.line}.safe()
		if got := s.labelStep(); math.Abs(got-c.step) > 1e-9 {
			t.Error(c, got)
		}
	}
	if got := number(2.50); got != "2.5" {
		t.Error(got)
	}
}

func TestDialTapsAndKeys(t *testing.T) {
	var got []float64
	d := NewDial(demoDial(), func(v float64) { got = append(got, v) })
	w := open(t, d, 300, 300)
	mid, r := dialCircle(d.Size())
	tap := func(v float64) {
		p := onCircle(mid, r*0.9, DialAngle(v, 0, 250))
		test.TapAt(d, fyne.NewPos(float32(p.X), float32(p.Y)))
	}
	tap(151)
	tap(153)
	tap(250)
	test.TapAt(d, fyne.NewPos(float32(mid.X), float32(mid.Y))) // the hub says nothing
	test.TapAt(d, fyne.NewPos(1, 1))                           // nor does a corner
	w.Canvas().Focus(d)
	key(d, fyne.KeyDown)
	key(d, fyne.KeyLeft)
	key(d, fyne.KeyUp)
	key(d, fyne.KeyReturn)
	p := onCircle(mid, r*0.8, DialAngle(200, 0, 250))
	d.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(p.X), float32(p.Y))}})
	p = onCircle(mid, r*0.8, 170)
	d.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(p.X), float32(p.Y))}})
	p = onCircle(mid, r*0.8, 190) // across the open part: stays
	d.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(p.X), float32(p.Y))}})
	d.DragEnd()
	if want := []float64{150, 155, 250, 245, 250}; !slices.Equal(got, want) {
		t.Error(got)
	}
	d.SetSpec(DialSpec{Span: 2.5, Line: 0.1, Needle: nan})
	key(d, fyne.KeyUp)
	key(d, fyne.KeyUp)
	key(d, fyne.KeyUp)
	if d.Needle() != 0.15 {
		t.Error(d.Needle())
	}
}

// anyNumber draws awkward numbers often.
func anyNumber() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.SampledFrom([]float64{0, -1, nan, math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 1e15, 250, 10, math.MaxFloat64}),
		rapid.Float64Range(-500, 500), rapid.Float64())
}

func TestDialDrawsAnything(t *testing.T) {
	d := NewDial(DialSpec{}, func(float64) {})
	w := open(t, d, 200, 200)
	rapid.Check(t, func(t *rapid.T) {
		n := anyNumber()
		d.SetSpec(DialSpec{Span: n.Draw(t, "span"), Line: n.Draw(t, "line"), Start: n.Draw(t, "start"),
			Unit: rapid.String().Draw(t, "unit"), Mark: n.Draw(t, "mark"), Restart: n.Draw(t, "restart"),
			Limit: n.Draw(t, "limit"), Needle: n.Draw(t, "needle")})
		w.Resize(fyne.NewSize(rapid.Float32Range(0, 300).Draw(t, "w"), rapid.Float32Range(0, 300).Draw(t, "h")))
		for _, k := range []fyne.KeyName{fyne.KeyUp, fyne.KeyReturn, fyne.KeyPageDown} {
			key(d, k)
		}
		test.TapAt(d, fyne.NewPos(20, 60))
		if v := d.Needle(); !finite(v) {
			t.Fatal("needle", v)
		}
		w.Canvas().Capture()
	})
}
