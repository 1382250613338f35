package widgets

import (
	"image/color"
	"math"
	"testing"
)

func TestContrastOfText(t *testing.T) {
	texts := map[string]color.Color{"ink": Ink, "soft": InkSoft, "blue": Blue, "vermilion": Vermilion, "green": Green}
	for name, c := range texts {
		for ground, g := range map[string]color.Color{"paper": Paper, "white": White} {
			if r := Contrast(c, g); r < 7 {
				t.Errorf("%s on %s: %.2f", name, ground, r)
			}
		}
	}
	for name, g := range map[string]color.Color{"blue": Blue, "vermilion": Vermilion, "ink": Ink, "green": Green} {
		if r := Contrast(White, g); r < 7 {
			t.Errorf("white on %s: %.2f", name, r)
		}
	}
	if r := Contrast(InkSoft, disabledGround); r < 4.5 {
		t.Errorf("disabled text: %.2f", r)
	}
	if r := Contrast(railSoft, Ink); r < 7 {
		t.Errorf("soft text on the rail: %.2f", r)
	}
}

func TestContrastEnds(t *testing.T) {
	if r := Contrast(color.Black, color.White); math.Abs(r-21) > 1e-6 {
		t.Error(r)
	}
	if r := Contrast(Blue, Blue); r != 1 {
		t.Error(r)
	}
}
