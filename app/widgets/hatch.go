package widgets

import (
	"image"
	"image/color"
	"math"
)

// hatch is an endless picture of slanted amber and ink stripes: the sign for
// a limit, readable without colour.
type hatch struct{ step float64 }

// ColorModel is part of image.Image.
func (h hatch) ColorModel() color.Model { return color.NRGBAModel }

// Bounds is part of image.Image.
func (h hatch) Bounds() image.Rectangle { return image.Rect(-1e6, -1e6, 1e6, 1e6) }

// At blends softly over one pixel at the edge of a stripe.
func (h hatch) At(x, y int) color.Color {
	step := math.Max(h.step, 3)
	d := math.Mod(float64(x+y)/math.Sqrt2, step)
	if d < 0 {
		d += step
	}
	dark := step * 0.44
	edge := math.Min(d, dark-d) // distance into the dark stripe
	if d > dark {
		edge = -math.Min(d-dark, step-d)
	}
	return blend(Amber, Ink, clamp(edge+0.5, 0, 1))
}

// pixel is At for a canvas raster.
func (h hatch) pixel(x, y, _, _ int) color.Color { return h.At(x, y) }
