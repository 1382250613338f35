package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"pgregory.net/rapid"
)

func TestCurveDrawsAnything(t *testing.T) {
	c := NewCurve(CurveSpec{Bead: -1})
	w := open(t, c, 300, 110)
	point := rapid.Custom(func(t *rapid.T) Point {
		return Point{anyNumber().Draw(t, "x"), anyNumber().Draw(t, "y")}
	})
	step := rapid.Custom(func(t *rapid.T) StepMark {
		return StepMark{anyNumber().Draw(t, "at"), rapid.String().Draw(t, "text"), rapid.Bool().Draw(t, "now")}
	})
	rapid.Check(t, func(t *rapid.T) {
		c.SetSpec(CurveSpec{
			Ideal: rapid.SliceOfN(point, 0, 6).Draw(t, "ideal"),
			Real:  rapid.SliceOfN(point, 0, 6).Draw(t, "real"),
			Level: anyNumber().Draw(t, "level"),
			Steps: rapid.SliceOfN(step, 0, 5).Draw(t, "steps"),
			Bead:  rapid.IntRange(-3, 9).Draw(t, "bead"),
			Gaps:  rapid.SliceOfN(rapid.IntRange(-2, 8), 0, 3).Draw(t, "gaps"),
		})
		w.Resize(fyne.NewSize(rapid.Float32Range(0, 400).Draw(t, "w"), rapid.Float32Range(0, 200).Draw(t, "h")))
		w.Canvas().Capture()
	})
}

func TestStepWordsKeepApart(t *testing.T) {
	open(t, NewPara("x"), 100, 100)
	rapid.Check(t, func(t *rapid.T) {
		var steps []StepMark
		n := rapid.IntRange(1, 9).Draw(t, "n")
		now := rapid.IntRange(0, n-1).Draw(t, "now")
		for i := range n {
			steps = append(steps, StepMark{rapid.Float64Range(0, 300).Draw(t, "at"),
				rapid.StringMatching("[a-z]{1,12}( [a-z]{1,8})?").Draw(t, "text"), i == now})
		}
		words := placeSteps(steps, 13, 300, func(x float64) float32 { return float32(x) })
		seen := false
		for i, a := range words {
			seen = seen || a.now
			if a.from < 0 || a.to > 300 {
				t.Fatal("outside", a)
			}
			for _, b := range words[:i] {
				if a.from < b.to && a.to > b.from {
					t.Fatal(a, b)
				}
			}
		}
		if !seen {
			t.Fatal("the current step is missing")
		}
	})
}
