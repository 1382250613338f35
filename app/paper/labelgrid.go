package paper

import (
	"io"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"mvuke/app/work"
	"mvuke/assets"
)

// Grid is how labels lie on a sheet, in millimetres.
type Grid struct {
	Name                                      string
	PageW, PageH, Left, Top, W, H, GapX, GapY float64
	Columns, Rows                             int
}

// Grids are the sheets and the roll that labels can be printed on.
var Grids = []Grid{
	{"a4-3x8", 210, 297, 0, 0.5, 70, 37, 0, 0, 3, 8},
	{"a4-2x7", 210, 297, 4.65, 15.15, 99.1, 38.1, 2.5, 0, 2, 7},
	{"a4-4x10", 210, 297, 8, 21.5, 48.5, 25.4, 0, 0, 4, 10},
	{"roll-62x29", 62, 29, 0, 0, 62, 29, 0, 0, 1, 1},
}

// Places is how many labels one page has.
func (g Grid) Places() int { return g.Columns * g.Rows }

// Title names the grid for a list to choose from.
func (g Grid) Title(w *assets.Words) string {
	width, height := w.Number(g.W, 1), w.Number(g.H, 1)
	if g.Places() == 1 {
		return w.Say("label.grid.roll", width, height)
	}
	return w.Say("label.grid.sheet", strconv.Itoa(g.Places()), width, height)
}

// roomy grids have space for bars and a square code on one label.
func (g Grid) roomy() bool { return g.W >= 60 && g.H >= 35 }

// box is where a label may have ink. unit is 1 on the smallest labels; letters grow with it.
type box struct{ x, y, w, h, unit float64 }

// Sheets are fed a millimetre askew, and no office printer reaches the edge of the paper; printers for
// rolls reach further. All labels of a grid have the same box, so that they look the same.
const (
	insetX, insetY      = 2.0, 1.5
	edgeSheet, edgeRoll = 5.0, 2.0
	unitHeight          = 22.4
	unitMost, unitLeast = 1.6, 0.95 // below this, nobody reads the small lines
)

func (g Grid) box(i int) box {
	edge := edgeSheet
	if g.Places() == 1 {
		edge = edgeRoll
	}
	right := g.PageW - g.Left - float64(g.Columns)*g.W - float64(g.Columns-1)*g.GapX
	below := g.PageH - g.Top - float64(g.Rows)*g.H - float64(g.Rows-1)*g.GapY
	ix, iy := max(insetX, edge-g.Left, edge-right), max(insetY, edge-g.Top, edge-below)
	x, y := g.corner(i)
	h := g.H - 2*iy
	return box{x + ix, y + iy, g.W - 2*ix, h, min(h/unitHeight, unitMost)}
}

// corner is the upper left corner of a place, counted along the rows.
func (g Grid) corner(i int) (x, y float64) {
	return g.Left + float64(i%g.Columns)*(g.W+g.GapX), g.Top + float64(i/g.Columns)*(g.H+g.GapY)
}

// labelDay is the day that every sheet of labels says it was made: the same labels give the same file, and
// when a label was printed stands in the register.
var labelDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// lay draws n labels from a place of the first page on. What it refuses, it refuses before a byte is written.
func (g Grid) lay(out io.Writer, w *assets.Words, title string, from, n int, draw func(s *sheet, b box, i int) error) error {
	if from < 0 || from >= g.Places() {
		return &work.Refusal{Code: "label.refuse.from", Args: []string{strconv.Itoa(g.Places())}}
	}
	if n == 0 {
		return &work.Refusal{Code: "label.refuse.none"}
	}
	size := fpdf.SizeType{Wd: g.PageW, Ht: g.PageH}
	s := &sheet{fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: size}), w, 1}
	s.begin(title, labelDay)
	for i := range n {
		place := (from + i) % g.Places()
		if i == 0 || place == 0 {
			s.AddPage()
		}
		if err := draw(s, g.box(place), i); err != nil {
			return err
		}
	}
	return s.finish(out)
}

// dot is the finest step of the usual label printer, 300 to the inch. Bars as wide as a whole number of
// dots, beginning on one, come out equally wide; others differ by a dot and are misread.
const dot = 25.4 / 300

func onDot(mm float64) float64 { return math.Round(mm/dot) * dot }
