package widgets

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// CreateRenderer is called by Fyne.
func (d *Dial) CreateRenderer() fyne.WidgetRenderer {
	watch(d, func() string { return d.spec.Unit })
	r := &dialRenderer{d: d}
	r.face = drawing(func(p *pen, w, h float64) {
		paintDial(p, d.spec, fyne.NewSize(float32(w), float32(h)), d.focused)
	})
	r.needle = drawing(func(p *pen, w, h float64) {
		paintNeedle(p, d.spec, fyne.NewSize(float32(w), float32(h)))
	})
	r.Refresh()
	return r
}

type dialRenderer struct {
	d      *Dial
	face   *canvas.Raster
	needle *canvas.Raster
	words  []*canvas.Text
	used   int
}

func (r *dialRenderer) MinSize() fyne.Size {
	if r.d.least > 0 {
		return fyne.NewSquareSize(r.d.least)
	}
	return fyne.NewSquareSize(min(grow(200), 280))
}

func (r *dialRenderer) Layout(size fyne.Size) {
	put(r.face, 0, 0, size.Width, size.Height)
	put(r.needle, 0, 0, size.Width, size.Height)
	r.label(size)
}

// label puts the numbers inside the ring of lines, and the unit below.
func (r *dialRenderer) label(size fyne.Size) {
	s := r.d.spec
	mid, rim := dialCircle(size)
	font := float32(clamp(rim*0.105, 11, 19)) * min(scale(), 1.3)
	r.used = 0
	for _, v := range s.labels() {
		a := DialAngle(v, s.Start, s.Span)
		word := number(v)
		box := fyne.MeasureText(word, font, style(true))
		// The text box, not its middle, keeps its distance from the lines.
		sin, cos := math.Sincos(a * math.Pi / 180)
		half := math.Abs(sin)*float64(box.Width)/2 + math.Abs(cos)*float64(box.Height)*0.36
		at := onCircle(mid, max(0, rim*0.80-4-half), a)
		r.word(word, font, true, at, box)
	}
	if s.Unit != "" {
		unit := shorten(s.Unit, font, false, float32(rim*0.8))
		r.word(unit, font, false, Point{mid.X, mid.Y + rim*0.50}, fyne.MeasureText(unit, font, style(false)))
	}
	for _, t := range r.words[r.used:] {
		t.Text = ""
		t.Hide()
	}
}

func (r *dialRenderer) word(s string, font float32, bold bool, at Point, box fyne.Size) {
	if r.used == len(r.words) {
		r.words = append(r.words, canvas.NewText("", Ink))
	}
	t := r.words[r.used]
	r.used++
	t.Text, t.TextSize, t.TextStyle, t.Color = s, font, style(bold), Ink
	if !bold {
		t.Color = InkSoft
	}
	t.Show()
	put(t, float32(at.X)-box.Width/2, float32(at.Y)-box.Height/2, box.Width, box.Height)
	t.Refresh()
}

func (r *dialRenderer) Refresh() {
	r.Layout(r.d.Size())
	r.face.Refresh()
	r.needle.Refresh()
}

func (r *dialRenderer) Objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{r.face}
	for _, t := range r.words {
		o = append(o, t)
	}
	return append(o, r.needle)
}

func (r *dialRenderer) Destroy() {}

// paintDial draws the face of a dial except its words.
func paintDial(p *pen, s DialSpec, size fyne.Size, focused bool) {
	mid, rim := dialCircle(size)
	if rim < 10 {
		return
	}
	if focused {
		p.band(mid, rim+6, rim+6+ringWide, 0, 360, image.NewUniform(Ink))
	}
	p.disc(mid, rim, Ink)
	p.disc(mid, rim-3, White)
	angle := func(v float64) float64 { return DialAngle(v, s.Start, s.Span) }
	outer, inner := rim-4, rim-4-max(8, rim*0.096)
	paintBands(p, s, mid, inner, outer)
	for i, step := 0, s.tickStep(); i <= 60; i++ {
		v := s.Start + float64(i)*step
		if v > s.Span+step*1e-6 {
			break
		}
		tick(p, mid, angle(v), inner-rim*0.055, inner-2, 1.3, Ink)
	}
	for _, v := range s.labels() {
		tick(p, mid, angle(v), rim*0.80, inner-1, 2.8, Ink)
	}
	if finite(s.Restart) {
		tick(p, mid, angle(s.Restart), inner-2, rim+5, 3, Blue)
	}
	if finite(s.Mark) {
		tick(p, mid, angle(s.Mark), inner, rim+10, 6, Blue)
	}
}

// paintNeedle draws the needle and its hub, on top of the numbers.
func paintNeedle(p *pen, s DialSpec, size fyne.Size) {
	mid, rim := dialCircle(size)
	if rim < 10 {
		return
	}
	if finite(s.Needle) {
		// A needle beyond the scale leans on the stop just past its end.
		a := DialAngle(s.Needle, s.Start, s.Span)
		if s.Needle > s.Span {
			a += 6
		} else if s.Needle < s.Start {
			a -= 6
		}
		p.stroke([]Point{onCircle(mid, rim*0.15, a+180), onCircle(mid, rim*0.76, a)}, max(3, rim*0.034), Vermilion)
	}
	p.disc(mid, max(5, rim*0.062), Ink)
}

func paintBands(p *pen, s DialSpec, mid Point, inner, outer float64) {
	angle := func(v float64) float64 { return DialAngle(v, s.Start, s.Span) }
	if finite(s.Mark) {
		if finite(s.Restart) && s.Restart < s.Mark {
			p.band(mid, inner, outer, angle(s.Restart), angle(s.Mark), image.NewUniform(BlueSoft))
		}
		end := s.Mark + (s.Span-s.Start)*0.045
		if finite(s.Limit) && s.Limit > s.Mark {
			end = min(end, s.Limit)
		}
		p.band(mid, inner, outer, angle(s.Mark), angle(end), image.NewUniform(Blue))
	}
	if finite(s.Limit) && s.Limit < s.Span {
		p.band(mid, inner, outer, angle(s.Limit), dialSweep, hatch{8 * p.scale})
	}
}

func tick(p *pen, mid Point, a, from, to, wide float64, c color.Color) {
	p.stroke([]Point{onCircle(mid, from, a), onCircle(mid, to, a)}, wide, c)
}
