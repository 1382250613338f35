package paper

import (
	"fmt"
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"mvuke/assets"
)

// Size is a paper size.
type Size string

// Sizes.
const (
	A4 Size = "A4"
	A5 Size = "A5"
)

// ParseSize reads A4 or A5.
func ParseSize(s string) (Size, error) {
	switch Size(s) {
	case A4, A5:
		return Size(s), nil
	}
	return "", fmt.Errorf("paper %q is not A4 or A5", s)
}

const (
	pageW, pageH = 210.0, 297.0
	margin       = 14.0
)

type rgb [3]int

var (
	ink       = rgb{28, 27, 23}
	soft      = rgb{87, 80, 70}
	blue      = rgb{0, 74, 128}
	amber     = rgb{230, 159, 0}
	vermilion = rgb{148, 52, 6}
	pale      = rgb{216, 209, 195}
	white     = rgb{255, 255, 255}
)

// sheet is a page being drawn.
type sheet struct {
	*fpdf.Fpdf
	w     *assets.Words
	scale float64
}

func newSheet(w *assets.Words, size Size, title string, made time.Time) *sheet {
	s := &sheet{fpdf.New("P", "mm", string(size), ""), w, 1}
	if size == A5 {
		s.scale = 148.0 / pageW
	}
	s.begin(title, made)
	return s
}

// begin sets what all sheets share: the same bytes for the same sheet, our letters, no margins of the library's own.
func (s *sheet) begin(title string, made time.Time) {
	s.SetCatalogSort(true)
	s.SetCreationDate(made)
	s.SetModificationDate(made)
	s.SetTitle(title, true)
	s.SetAutoPageBreak(false, 0)
	s.SetMargins(0, 0, 0)
	s.AddUTF8FontFromBytes("noto", "", assets.Regular)
	s.AddUTF8FontFromBytes("noto", "B", assets.Bold)
}

// page begins a page in A4 coordinates.
func (s *sheet) page() {
	s.AddPage()
	s.TransformBegin()
	s.TransformScale(s.scale*100, s.scale*100, 0, 0)
}

func (s *sheet) endPage() { s.TransformEnd() }

func (s *sheet) finish(out io.Writer) error {
	if err := s.Output(out); err != nil {
		return fmt.Errorf("paper: %w", err)
	}
	return nil
}

func (s *sheet) ink(c rgb) { s.SetTextColor(c[0], c[1], c[2]) }
func (s *sheet) pen(c rgb, width float64) {
	s.SetDrawColor(c[0], c[1], c[2])
	s.SetLineWidth(width)
}
func (s *sheet) fill(c rgb) { s.SetFillColor(c[0], c[1], c[2]) }

// text writes one line at a baseline, made smaller if it would be wider than max (0: no bound). It
// gives the width written.
func (s *sheet) text(x, y, size float64, bold bool, c rgb, max float64, str string) float64 {
	style := ""
	if bold {
		style = "B"
	}
	s.SetFont("noto", style, size)
	if w := s.GetStringWidth(str); max > 0 && w > max {
		s.SetFont("noto", style, size*max/w*0.999)
	}
	s.ink(c)
	s.Text(x, y, str)
	return s.GetStringWidth(str)
}

// centred writes a line around x.
func (s *sheet) centred(x, y, size float64, bold bool, c rgb, str string) {
	style := ""
	if bold {
		style = "B"
	}
	s.SetFont("noto", style, size)
	s.text(x-s.GetStringWidth(str)/2, y, size, bold, c, 0, str)
}

// para writes a wrapped paragraph from a first baseline and gives the next baseline.
func (s *sheet) para(x, y, size, width float64, bold bool, c rgb, str string) float64 {
	style := ""
	if bold {
		style = "B"
	}
	s.SetFont("noto", style, size)
	s.ink(c)
	for _, line := range s.SplitText(str, width) {
		s.Text(x, y, line)
		y += size * 0.45
	}
	return y
}

// hatch fills a box with amber and black strokes, for limits.
func (s *sheet) hatch(x, y, w, h float64) {
	s.fill(amber)
	s.Rect(x, y, w, h, "F")
	s.ClipRect(x, y, w, h, false)
	s.pen(ink, 1)
	for d := -h; d < w; d += 2.6 {
		s.Line(x+d, y+h, x+d+h, y)
	}
	s.ClipEnd()
}

// warningSign is the general warning sign of ISO 7010 (W001): a triangle with an exclamation mark.
func (s *sheet) warningSign(x, y, size float64) {
	s.fill(amber)
	s.pen(ink, size/14)
	s.Polygon([]fpdf.PointType{{X: x, Y: y + size*0.87}, {X: x + size, Y: y + size*0.87}, {X: x + size/2, Y: y}}, "FD")
	s.fill(ink)
	s.Rect(x+size*0.465, y+size*0.3, size*0.07, size*0.3, "F")
	s.Circle(x+size/2, y+size*0.7, size*0.045, "F")
}

// cautions writes the cautions at the foot of a sheet.
func (s *sheet) cautions(y float64, keys ...string) float64 {
	s.warningSign(margin, y, 13)
	x, width := margin+17, pageW-2*margin-17
	y += 4
	for i, k := range keys {
		y = s.para(x, y, 8.6, width, i == 0, ink, s.w.Say(k))
	}
	return s.para(x, y, 8, width, false, soft, s.w.Say("caution.line"))
}

func polar(cx, cy, r, degrees float64) (x, y float64) {
	a := (degrees - 90) * math.Pi / 180
	return cx + r*math.Cos(a), cy + r*math.Sin(a)
}
