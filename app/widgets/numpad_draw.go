package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
)

// CreateRenderer is called by Fyne.
func (n *NumPad) CreateRenderer() fyne.WidgetRenderer {
	r := &padRenderer{n: n, frame: newFrame()}
	r.text = block{bold: true, align: fyne.TextAlignTrailing}
	r.Refresh()
	return r
}

type padRenderer struct {
	n     *NumPad
	frame *frame
	text  block
}

const padGap = 8

// spot is where a key stands: column, row, and how many of each it covers.
type spot struct{ x, y, w, h float32 }

// spots go with the order of the keys in NewNumPad.
func spots() []spot {
	var s []spot
	for i := range 9 {
		s = append(s, spot{float32(i % 3), float32(i / 3), 1, 1})
	}
	return append(s,
		spot{0, 3, 2, 1}, // 0
		spot{2, 3, 1, 1}, // point
		spot{3, 0, 1, 1}, // take back
		spot{3, 1, 1, 3}, // finish
	)
}

func (r *padRenderer) MinSize() fyne.Size {
	return fyne.NewSize(4*grow(64)+3*padGap, 5*touch()+4*padGap)
}

func (r *padRenderer) Layout(size fyne.Size) {
	h := max(1, (size.Height-4*padGap)/5)
	w := max(1, (size.Width-3*padGap)/4)
	r.frame.layout(fyne.NewSize(size.Width, h))
	r.text.size = 30 * scale()
	shown := strings.Replace(r.n.value, ".", r.n.point, 1)
	r.text.set([]string{shorten(shown, r.text.size, true, size.Width-28)})
	r.text.place(14, (h-r.text.height())/2, size.Width-28)
	for i, s := range spots() {
		put(r.n.keys[i], s.x*(w+padGap), (s.y+1)*(h+padGap), s.w*w+(s.w-1)*padGap, s.h*h+(s.h-1)*padGap)
	}
}

func (r *padRenderer) Refresh() {
	r.text.color = Ink
	r.frame.paint(White, Ink, 2, r.n.focused)
	for _, k := range r.n.keys {
		k.Refresh()
	}
	r.Layout(r.n.Size())
}

func (r *padRenderer) Objects() []fyne.CanvasObject {
	o := append(r.frame.objects(), r.text.objects()...)
	for _, k := range r.n.keys {
		o = append(o, k)
	}
	return o
}

func (r *padRenderer) Destroy() {}
