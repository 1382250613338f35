package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

type lifeRenderer struct {
	l     *LifeLine
	plan  lifePlan
	faces []*canvas.Raster // one a row: a single tall one could grow beyond what a picture may
	words []*[3]block      // title, when and detail of each knot
}

func (r *lifeRenderer) MinSize() fyne.Size {
	width := r.l.Size().Width
	if width <= 0 {
		width = grow(700)
	}
	least := grow(lifeCell) + 2*lifeSide
	return fyne.NewSize(least, planLife(r.l.knots, max(width, least)).height)
}

func (r *lifeRenderer) Layout(size fyne.Size) {
	r.plan = planLife(r.l.knots, size.Width)
	p := &r.plan
	for len(r.faces) < len(p.rows) {
		i := len(r.faces)
		r.faces = append(r.faces, drawing(func(n *pen, _, _ float64) { r.paint(n, i) }))
	}
	for i, f := range r.faces {
		f.Hidden = i >= len(p.rows)
		if !f.Hidden {
			from, to := r.span(i)
			put(f, 0, from, size.Width, to-from)
			f.Refresh()
		}
	}
	for len(r.words) < len(p.words) {
		r.words = append(r.words, &[3]block{})
	}
	for _, b := range r.words[len(p.words):] {
		for i := range b {
			b[i].set(nil)
		}
	}
	for _, row := range p.rows {
		for i := row.from; i < row.to; i++ {
			if s := r.l.spots[i]; s != nil {
				put(s, p.words[i].x, row.top, p.cell, row.height)
			}
			r.write(i, row)
		}
	}
}

func (r *lifeRenderer) write(i int, row lifeRow) {
	p, w, k := &r.plan, r.plan.words[i], r.l.knots[i]
	b := r.words[i]
	b[0].size, b[1].size, b[2].size = p.title, p.when, p.detail
	b[0].bold = true
	b[0].color, b[1].color, b[2].color = Ink, InkSoft, Ink
	if k.Harm {
		b[0].color = Vermilion
	}
	for j, lines := range [][]string{w.title, w.when, w.detail} {
		b[j].align = fyne.TextAlignCenter
		b[j].set(lines)
	}
	x, room, below := w.x+lifePad, p.cell-2*lifePad, row.line+p.reach()
	b[0].place(x, row.line-p.reach()-b[0].height(), room)
	b[1].place(x, below, room)
	b[2].place(x, below+p.whenHeight(w), room)
}

// span is the height a face covers: from the row before, whence the line
// comes, to the lower edge of its own knots.
func (r *lifeRenderer) span(i int) (from, to float32) {
	p := &r.plan
	edge := p.ring + lifeWide + 1
	from = p.rows[i].line - edge
	if i > 0 {
		from = p.rows[i-1].line - edge
	}
	return from, p.rows[i].line + edge
}

// paint draws the way to a row, the line along it and its knots.
func (r *lifeRenderer) paint(n *pen, i int) {
	p := &r.plan
	if i >= len(p.rows) {
		return
	}
	row := p.rows[i]
	top, _ := r.span(i)
	at := func(k int, row lifeRow) Point {
		return Point{float64(p.words[k].x + p.cell/2), float64(row.line - top)}
	}
	if i > 0 {
		// Thin, because nothing happens on the way; it starts beside the
		// knot before, which another face has already drawn.
		before := p.rows[i-1]
		start := at(before.to-1, before)
		start.X += float64(p.ring) + lifeWide/2 + lifeThin/2
		turn := float64(before.top + before.height + grow(lifeSkip)/2 - top)
		n.stroke(lifeBend(start, at(row.from, row), turn, float64(p.left), float64(p.right)), lifeThin, InkSoft)
	}
	n.stroke([]Point{at(row.from, row), at(row.to-1, row)}, lifeWide, Ink)
	for k := row.from; k < row.to; k++ {
		paintKnot(n, r.l.knots[k], at(k, row), float64(p.ring))
	}
}

// lifeBend goes from the end of a row around its words to the next one.
func lifeBend(from, to Point, turn, left, right float64) []Point {
	c := clamp(min((right-left)/4, (turn-from.Y)/2, (to.Y-turn)/2), 1, 11)
	out := []Point{from}
	out = append(out, arcPoints(Point{right - c, from.Y + c}, c, 0, 90)...)
	out = append(out, arcPoints(Point{right - c, turn - c}, c, 90, 180)...)
	out = append(out, arcPoints(Point{left + c, turn + c}, c, 360, 270)...)
	out = append(out, arcPoints(Point{left + c, to.Y - c}, c, 270, 180)...)
	return append(out, to)
}

// paintKnot tells what a knot is by its form; the colour only says it again.
func paintKnot(n *pen, k Knot, at Point, ring float64) {
	outer := ring + lifeWide/2
	switch {
	case k.Harm:
		var corners []Point
		for i := range 8 {
			corners = append(corners, onCircle(at, outer+2, 22.5+45*float64(i)))
		}
		n.fill(corners, Vermilion)
	case k.Now:
		n.disc(at, outer, Ink)
	default:
		n.disc(at, outer, Ink)
		n.disc(at, ring-lifeWide/2, Paper)
	}
}

func (r *lifeRenderer) Refresh() {
	r.Layout(r.l.Size())
	for _, s := range r.l.spots {
		if s != nil {
			s.Refresh()
		}
	}
}

func (r *lifeRenderer) Objects() []fyne.CanvasObject {
	var o []fyne.CanvasObject
	for _, s := range r.l.spots {
		if s != nil {
			o = append(o, s)
		}
	}
	for _, f := range r.faces {
		o = append(o, f)
	}
	for _, b := range r.words {
		for i := range b {
			o = append(o, b[i].objects()...)
		}
	}
	return o
}

func (r *lifeRenderer) Destroy() {}
