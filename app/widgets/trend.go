package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// TrendBar is one bar of a trend: a share of the whole, or missing.
type TrendBar struct {
	Name, Text string
	Share      float64 // 0 to 1
	Missing    bool    // not told: an empty place, never a zero
	Off        bool    // not as it is asked for: drawn hollow
}

// NewTrend draws bars from left to right, the oldest first. asked is a share of the whole at which a line stands; below zero: there is none.
func NewTrend(bars []TrendBar, asked float64) fyne.CanvasObject {
	out := &fyne.Container{Layout: trendLayout{}}
	face := drawing(func(p *pen, w, h float64) {
		n := float64(max(1, len(bars)))
		foot, top := h-44, 26.0
		p.fill([]Point{{0, foot}, {w, foot}, {w, foot + 2}, {0, foot + 2}}, Ink)
		for i, b := range bars {
			x, wide := w*(float64(i)+0.2)/n, w*0.6/n
			if b.Missing {
				for y := foot - 8; y > top; y -= 12 { // dashes where nothing is known
					p.fill([]Point{{x + wide/2 - 2, y}, {x + wide/2 + 2, y}, {x + wide/2 + 2, y + 5}, {x + wide/2 - 2, y + 5}}, Pale)
				}
				continue
			}
			y := foot - (foot-top)*b.Share
			colour := Blue
			if b.Off {
				colour = Vermilion
			}
			p.fill([]Point{{x, y}, {x + wide, y}, {x + wide, foot}, {x, foot}}, colour)
			if b.Off && foot-y > 8 {
				p.fill([]Point{{x + 4, y + 4}, {x + wide - 4, y + 4}, {x + wide - 4, foot}, {x + 4, foot}}, White)
			}
		}
		if y := foot - (foot-top)*asked; asked >= 0 && asked <= 1 {
			for x := 0.0; x < w; x += 14 {
				p.fill([]Point{{x, y - 1}, {x + 8, y - 1}, {x + 8, y + 1}, {x, y + 1}}, Ink)
			}
		}
	})
	out.Objects = append(out.Objects, face)
	for _, b := range bars {
		ink := Ink
		if b.Off {
			ink = Vermilion // a bar may be too low to be seen
		}
		text, name := canvas.NewText(b.Text, ink), canvas.NewText(b.Name, InkSoft)
		text.TextStyle.Bold = true
		text.TextSize, name.TextSize = 14*scale(), 13*scale()
		text.Alignment, name.Alignment = fyne.TextAlignCenter, fyne.TextAlignCenter
		out.Objects = append(out.Objects, text, name)
	}
	return out
}

type trendLayout struct{}

func (trendLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	put(objs[0], 0, 0, size.Width, size.Height)
	n := (len(objs) - 1) / 2
	for i := range n {
		x, wide := size.Width*float32(i)/float32(n), size.Width/float32(n)
		put(objs[1+2*i], x, 2, wide, 22)
		put(objs[2+2*i], x, size.Height-36, wide, 22)
	}
}

func (trendLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(grow(260), grow(150)) }
