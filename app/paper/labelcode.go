package paper

import (
	"image/color"
	"math"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/code128"
	"github.com/boombuler/barcode/qr"

	"mvuke/app/work"
)

// Limits of what a reader in a hand still reads, in modules, dots and millimetres.
const (
	quietBars, quietSquare = 10, 4
	leastBar               = 0.25
	mostBarDots            = 6
	leastSquareDots        = 3
	mostSquareDots         = 10
	leastBarsHigh          = 5.0
	mostBarsHigh           = 12.0
	longestScan            = 80
)

// scanCode are the modules that a label's Scan becomes.
type scanCode struct {
	bars, square barcode.Barcode
}

// encode refuses what a reader would not type again as it was: it plays a keyboard, so only
// the visible signs of ASCII come through, and the encoder has meanings of its own for some of the others.
func encode(number, scan string) (scanCode, error) {
	bad := &work.Refusal{Code: "label.refuse.scan", Args: []string{number}}
	if scan == "" || len(scan) > longestScan {
		return scanCode{}, bad
	}
	for _, r := range scan {
		if r < ' ' || r > '~' {
			return scanCode{}, bad
		}
	}
	bars, err := code128.Encode(scan)
	if err != nil {
		return scanCode{}, bad
	}
	square, err := qr.Encode(scan, qr.M, qr.Auto)
	if err != nil {
		return scanCode{}, bad
	}
	return scanCode{bars, square}, nil
}

// barModule is the width of the thinnest bar in a width that holds the quiet zones too; 0: it does not fit.
func (c scanCode) barModule(width float64) float64 {
	m := width / float64(c.bars.Bounds().Dx()+2*quietBars)
	if dots := math.Floor(m / dot); dots*dot >= leastBar {
		return min(dots, mostBarDots) * dot
	}
	if m >= leastBar {
		return m
	}
	return 0
}

// squareModule is the same for the square code.
func (c scanCode) squareModule(side float64) float64 {
	dots := math.Floor(side / dot / float64(c.square.Bounds().Dx()+2*quietSquare))
	if dots < leastSquareDots {
		return 0
	}
	return min(dots, mostSquareDots) * dot
}

// squareSide is the side of the square code with its quiet zone.
func (c scanCode) squareSide(module float64) float64 {
	return module * float64(c.square.Bounds().Dx()+2*quietSquare)
}

// modules draws the dark modules of a code from a corner. All go into one path and
// neighbours into one rectangle: drawn one by one, hair lines show between them on some printers.
func (s *sheet) modules(c barcode.Barcode, x, y, wide, high float64) {
	dark := func(i, j int) bool { return i < c.Bounds().Dx() && c.At(i, j) == color.Black }
	s.fill(black)
	for j := range c.Bounds().Dy() {
		for i := 0; i < c.Bounds().Dx(); i++ {
			first := i
			for dark(i, j) {
				i++
			}
			if i == first {
				continue
			}
			l, r := x+float64(first)*wide, x+float64(i)*wide
			t, b := y+float64(j)*high, y+float64(j+1)*high
			s.MoveTo(l, t)
			s.LineTo(r, t)
			s.LineTo(r, b)
			s.LineTo(l, b)
			s.ClosePath()
		}
	}
	s.DrawPath("F")
}
