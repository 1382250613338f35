package widgets

import (
	"image/color"
	"math"
)

// The palette follows the colour-blind-safe set of M. Okabe and K. Ito (2008).
// Blue, Vermilion and Green are darkened from their blue, vermilion and bluish
// green until text in them reaches a contrast of 7:1 on Paper and on White;
// Amber is their orange unchanged, and is therefore never used for text.
var (
	// Paper is the light ground of every page.
	Paper = color.NRGBA{0xFB, 0xF7, 0xEE, 0xFF}
	// Ink is near-black, for text, borders and the side rail.
	Ink = color.NRGBA{0x1C, 0x1B, 0x17, 0xFF}
	// InkSoft is for secondary text; still 7:1 on Paper.
	InkSoft = color.NRGBA{0x57, 0x50, 0x46, 0xFF}
	// Blue means "do this".
	Blue = color.NRGBA{0x0B, 0x4F, 0x7D, 0xFF}
	// BlueSoft is the light companion of Blue, for bands and selections.
	BlueSoft = color.NRGBA{0xCF, 0xE3, 0xF0, 0xFF}
	// Amber marks limits and cautions, always with a hatch, bar or shape.
	Amber = color.NRGBA{0xE6, 0x9F, 0x00, 0xFF}
	// Vermilion means harm: stop, wrong, never.
	Vermilion = color.NRGBA{0x94, 0x34, 0x06, 0xFF}
	// Green means soon, or in order.
	Green = color.NRGBA{0x05, 0x5C, 0x44, 0xFF}
	// Brown is Amber darkened until White can be read on it; for what lies elsewhere.
	Brown = color.NRGBA{0x6B, 0x4A, 0x00, 0xFF}
	// Pale is for ideal paths and things switched off.
	Pale = color.NRGBA{0xD9, 0xD0, 0xC2, 0xFF}
	// White is the ground of cards and fields.
	White = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
	// Line is the thin border of cards.
	Line = color.NRGBA{0xCF, 0xC6, 0xB8, 0xFF}

	disabledGround = color.NRGBA{0xED, 0xE6, 0xDA, 0xFF}
	railText       = color.NRGBA{0xED, 0xE6, 0xDA, 0xFF}
	railSoft       = color.NRGBA{0xB9, 0xAF, 0xA2, 0xFF}
	clear          = color.NRGBA{}
)

// Contrast is the WCAG 2 contrast ratio of two opaque colours, from 1 to 21.
func Contrast(a, b color.Color) float64 {
	la, lb := luminance(a), luminance(b)
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

func luminance(c color.Color) float64 {
	n := nrgba(c)
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(n.R) + 0.7152*lin(n.G) + 0.0722*lin(n.B)
}

func nrgba(c color.Color) color.NRGBA {
	if c == nil {
		return clear
	}
	return color.NRGBAModel.Convert(c).(color.NRGBA)
}

// blend moves a towards b by the part t (0 to 1).
func blend(a, b color.Color, t float64) color.NRGBA {
	x, y := nrgba(a), nrgba(b)
	mix := func(p, q uint8) uint8 {
		return uint8(math.Round(float64(p) + (float64(q)-float64(p))*t))
	}
	return color.NRGBA{mix(x.R, y.R), mix(x.G, y.G), mix(x.B, y.B), mix(x.A, y.A)}
}
