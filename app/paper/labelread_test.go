package paper

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/oned"
	"github.com/makiuchi-d/gozxing/qrcode"
)

const perMM = 300 / 25.4

// pictures turns a PDF into one grey picture a page, at the dots of a label printer.
func pictures(t *testing.T, pdf []byte) []*image.Gray {
	t.Helper()
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm (poppler-utils) is not installed: the printed bar codes are not read back")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "s.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, "-r", "300", "-gray", path, filepath.Join(dir, "p")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v %s", err, out)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "p-*.pgm"))
	sort.Strings(names)
	var pages []*image.Gray
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		var w, h, most int
		if _, err := fmt.Sscanf(string(b[:min(len(b), 40)]), "P5\n%d %d\n%d", &w, &h, &most); err != nil || most != 255 || len(b) < w*h {
			t.Fatalf("%s is no grey picture: %v", n, err)
		}
		pages = append(pages, &image.Gray{Pix: b[len(b)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)})
	}
	return pages
}

// cut copies the place i of a grid out of its page.
func cut(page *image.Gray, g Grid, i int) *image.Gray {
	x, y := g.corner(i)
	r := image.Rect(int(x*perMM), int(y*perMM), int((x+g.W)*perMM), int((y+g.H)*perMM)).Intersect(page.Bounds())
	out := image.NewGray(image.Rect(0, 0, r.Dx(), r.Dy()))
	draw.Draw(out, out.Bounds(), page, r.Min, draw.Src)
	return out
}

func decode(r gozxing.Reader, img image.Image) string {
	bits, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return ""
	}
	found, err := r.Decode(bits, map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return ""
	}
	return found.GetText()
}

func readBars(img image.Image) string   { return decode(oned.NewCode128Reader(), img) }
func readSquare(img image.Image) string { return decode(qrcode.NewQRCodeReader(), img) }

// strayInk counts dark dots outside the labels and in the outer millimetre of each.
func strayInk(page *image.Gray, g Grid) int {
	const rim = 1.0
	clear := image.NewGray(page.Bounds())
	draw.Draw(clear, clear.Bounds(), page, image.Point{}, draw.Src)
	for i := range g.Places() {
		x, y := g.corner(i)
		r := image.Rect(int(math.Ceil((x+rim)*perMM)), int(math.Ceil((y+rim)*perMM)), int((x+g.W-rim)*perMM), int((y+g.H-rim)*perMM))
		draw.Draw(clear, r, image.NewUniform(color.White), image.Point{}, draw.Src)
	}
	n := 0
	for _, v := range clear.Pix {
		if v < 200 {
			n++
		}
	}
	return n
}

func inked(img *image.Gray) bool {
	for _, v := range img.Pix {
		if v < 100 {
			return true
		}
	}
	return false
}

// barWidths measures, in mm, the thinnest bar or gap and the white beside the bars, along a line through
// the middle of the lowest bars.
func barWidths(cell *image.Gray, g Grid) (thin, quiet float64) {
	b := g.box(0)
	_, top := g.corner(0)
	row := cell.Pix[int((b.y+b.h-top-leastBarsHigh/2)*perMM)*cell.Stride:][:cell.Bounds().Dx()]
	var runs []int
	dark := false
	for i, v := range row {
		if i == 0 || (v < 128) != dark {
			dark = v < 128
			runs = append(runs, 0)
		}
		runs[len(runs)-1]++
	}
	if len(runs) < 3 {
		return 0, 0
	}
	last := len(runs) - 1
	return float64(slices.Min(runs[1:last])) / perMM, float64(min(runs[0], runs[last])) / perMM
}
