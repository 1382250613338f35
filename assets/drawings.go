package assets

import (
	"embed"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

//go:embed drawings/*.svg
var drawingFiles embed.FS

// Drawing is a simple picture of a piece: lines in a square of 100 by 100, y downwards. The same lines are drawn on the screen and on paper.
type Drawing [][][2]float64

// drawings by code, such as "scissors".
var drawings = func() map[string]Drawing {
	files, err := drawingFiles.ReadDir("drawings")
	if err != nil {
		panic(err)
	}
	all := map[string]Drawing{}
	for _, f := range files {
		b, err := drawingFiles.ReadFile("drawings/" + f.Name())
		if err != nil {
			panic(err)
		}
		d, err := readDrawing(b)
		if err != nil {
			panic(fmt.Sprintf("drawings/%s: %v", f.Name(), err))
		}
		all[strings.TrimSuffix(f.Name(), ".svg")] = d
	}
	return all
}()

// Drawings lists the codes; for checks.
func Drawings() (codes []string) {
	for c := range drawings {
		codes = append(codes, c)
	}
	slices.Sort(codes)
	return codes
}

// readDrawing reads the small part of SVG that the drawings keep to: polylines and circles.
func readDrawing(b []byte) (d Drawing, err error) {
	var x struct {
		Lines []struct {
			Points string `xml:"points,attr"`
		} `xml:"polyline"`
		Circles []struct {
			X float64 `xml:"cx,attr"`
			Y float64 `xml:"cy,attr"`
			R float64 `xml:"r,attr"`
		} `xml:"circle"`
	}
	if err := xml.Unmarshal(b, &x); err != nil {
		return nil, err
	}
	for _, l := range x.Lines {
		var line [][2]float64
		for _, pair := range strings.Fields(l.Points) {
			a, b, _ := strings.Cut(pair, ",")
			px, err1 := strconv.ParseFloat(a, 64)
			py, err2 := strconv.ParseFloat(b, 64)
			if err1 != nil || err2 != nil {
				return nil, fmt.Errorf("no point: %q", pair)
			}
			line = append(line, [2]float64{px, py})
		}
		d = append(d, line)
	}
	for _, c := range x.Circles {
		var ring [][2]float64
		for i := range 33 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 16)
			ring = append(ring, [2]float64{c.X + c.R*cos, c.Y + c.R*sin})
		}
		d = append(d, ring)
	}
	if len(d) == 0 {
		return nil, fmt.Errorf("no lines in it")
	}
	return d, nil
}

// anyPiece is the drawing of a piece that no word tells.
const anyPiece = "piece"

// Picture finds the drawing of a piece by the words in its name: the longest word that stands in it, of the language, else of English, since a list
// stays in the language that it was written in.
func (w *Words) Picture(piece string) (code string, d Drawing) {
	piece = strings.ToLower(piece)
	for _, words := range []map[string]string{w.own, w.en} {
		longest := 0
		for _, c := range Drawings() {
			for word := range strings.SplitSeq(words["look."+c], ",") {
				if word = strings.TrimSpace(word); len(word) > longest && strings.Contains(piece, word) {
					code, longest = c, len(word)
				}
			}
		}
		if longest > 0 {
			return code, drawings[code]
		}
	}
	return anyPiece, drawings[anyPiece]
}
