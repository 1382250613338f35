package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

const (
	touchMin = 56 // least height of anything to tap, for gloved fingers
	radius   = 6  // corner radius of cards and buttons
	ringWide = 3  // width of the focus ring
	ringRoom = 6  // ring and the gap inside it
	gap      = 10 // usual distance between parts
)

// scale is how much larger than usual the theme wants text to be.
func scale() float32 {
	s := theme.Size(theme.SizeNameText) / baseText
	if !(s > 0.2 && s < 10) {
		return 1
	}
	return s
}

// touch is the least height of a tappable part: it grows but never shrinks.
func touch() float32 { return grow(touchMin) }

// grow scales a length up with the text, but never below its usual size.
func grow(v float32) float32 { return v * max(1, scale()) }

func style(bold bool) fyne.TextStyle { return fyne.TextStyle{Bold: bold} }

func textWidth(s string, size float32, bold bool) float32 {
	if s == "" {
		return 0
	}
	return fyne.MeasureText(s, size, style(bold)).Width
}

func lineHeight(size float32, bold bool) float32 {
	return fyne.MeasureText("M", size, style(bold)).Height
}

// finite reports whether every value is an ordinary number of drawable size.
func finite(vs ...float64) bool {
	for _, v := range vs {
		if !(v > -1e15 && v < 1e15) {
			return false
		}
	}
	return true
}

func clamp[T float32 | float64 | int](v, lo, hi T) T {
	if !(v >= lo) { // also true for NaN
		return lo
	}
	if v > hi {
		return hi
	}
	return v
}
