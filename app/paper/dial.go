package paper

import (
	"math"
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"mvuke/model"
)

// dial draws the pot's own dial: its unit, lines and range, with restart line, mark and limit.
func (s *sheet) dial(cx, cy, r float64, f model.FrozenPlan) {
	span := float64(f.SpanMilli) / 1000
	line := float64(f.LineMilli) / 1000
	at := func(v float64) float64 { return -135 + 270*v/span }
	s.pen(ink, 0.7)
	s.fill(white)
	s.Circle(cx, cy, r, "FD")
	restart, mark, limit := float64(f.RestartMilli)/1000, float64(f.MarkMilli)/1000, float64(f.LimitMilli)/1000
	s.band(cx, cy, r*0.9, r*0.97, at(restart), at(mark), rgb{204, 224, 240})
	s.band(cx, cy, r*0.9, r*0.97, at(mark), at(math.Min(mark+line, span)), blue)
	if limit > 0 && limit < span {
		s.hatchBand(cx, cy, r*0.9, r*0.97, at(limit), at(span))
	}
	step := labelStep(span, line)
	for v := 0.0; v <= span+line/100; v += line {
		major := math.Abs(math.Remainder(v, step)) < line/100
		inner := r * 0.82
		s.pen(ink, 0.25)
		if major {
			inner = r * 0.76
			s.pen(ink, 0.6)
		}
		x1, y1 := polar(cx, cy, inner, at(v))
		x2, y2 := polar(cx, cy, r*0.87, at(v))
		s.Line(x1, y1, x2, y2)
		if major {
			x, y := polar(cx, cy, r*0.64, at(v))
			s.centred(x, y+1.6, r*0.2, true, ink, strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
	for _, m := range []struct{ v, out, width float64 }{{restart, 1.04, 0.8}, {mark, 1.12, 1.8}} {
		x1, y1 := polar(cx, cy, r*0.88, at(m.v))
		x2, y2 := polar(cx, cy, r*m.out, at(m.v))
		s.pen(blue, m.width)
		s.Line(x1, y1, x2, y2)
	}
	s.pen(vermilion, 1)
	x, y := polar(cx, cy, r*0.78, at(mark))
	tx, ty := polar(cx, cy, r*0.14, at(mark)+180)
	s.Line(tx, ty, x, y)
	s.fill(ink)
	s.Circle(cx, cy, r*0.055, "F")
	s.centred(cx, cy+r*0.45, r*0.2, false, soft, f.Unit)
}

// labelStep is a round distance between figures that leaves five to nine of them.
func labelStep(span, line float64) float64 {
	for _, m := range []float64{1, 2, 5, 10, 20, 25, 50, 100, 200, 500} {
		if n := span / (m * line); n <= 8.01 {
			return m * line
		}
	}
	return span
}

func (s *sheet) band(cx, cy, r1, r2, from, to float64, c rgb) {
	s.fill(c)
	s.Polygon(ring(cx, cy, r1, r2, from, to), "F")
}

func (s *sheet) hatchBand(cx, cy, r1, r2, from, to float64) {
	s.band(cx, cy, r1, r2, from, to, amber)
	s.pen(ink, 0.7)
	for a := from; a < to-2; a += 4 {
		x1, y1 := polar(cx, cy, r1, a)
		x2, y2 := polar(cx, cy, r2, a+3)
		s.Line(x1, y1, x2, y2)
	}
}

func ring(cx, cy, r1, r2, from, to float64) []fpdf.PointType {
	var out []fpdf.PointType
	steps := int(math.Max(2, math.Abs(to-from)/2))
	for i := range steps + 1 {
		x, y := polar(cx, cy, r2, from+(to-from)*float64(i)/float64(steps))
		out = append(out, fpdf.PointType{X: x, Y: y})
	}
	for i := steps; i >= 0; i-- {
		x, y := polar(cx, cy, r1, from+(to-from)*float64(i)/float64(steps))
		out = append(out, fpdf.PointType{X: x, Y: y})
	}
	return out
}
