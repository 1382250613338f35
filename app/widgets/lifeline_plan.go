package widgets

import "math"

const (
	lifeCell = 108 // least width of a knot
	lifeMost = 190 // more would pull a short line apart
	lifePad  = 8   // around the words, which must stay clear of the focus ring
	lifeRing = 13  // radius of a knot, to the middle of its edge
	lifeWide = 4   // of the line
	lifeThin = 2   // of the line on its way to the next row
	lifeSide = 12  // room at both edges for the line to go from row to row
	lifeSkip = 24  // between two rows, for the same

	// lifeMore ends the title of a knot that can be tapped, as in a Row.
	lifeMore = " ›"
)

// lifePlan is where everything goes on a line of a certain width.
type lifePlan struct {
	cell, height        float32
	left, right         float32 // where the line turns
	ring                float32
	title, when, detail float32 // sizes of text
	rows                []lifeRow
	words               []lifeWords
}

// lifeRow holds the knots from from up to, but not with, to.
type lifeRow struct {
	from, to          int
	top, line, height float32
}

// lifeWords are the words of a knot and the left edge of its cell.
type lifeWords struct {
	x                   float32
	title, when, detail []string
}

func planLife(knots []Knot, width float32) lifePlan {
	s := scale()
	p := lifePlan{title: 16 * s, when: 14.5 * s, detail: 13 * s, ring: grow(lifeRing)}
	n := len(knots)
	if n == 0 {
		return p
	}
	side := float32(0)
	if float32(n)*grow(lifeCell) > width {
		side = lifeSide
	}
	room := max(1, width-2*side)
	columns := clamp(int(room/grow(lifeCell)), 1, n)
	rows := (n + columns - 1) / columns
	columns = (n + rows - 1) / rows // rows of equal length leave no knot alone
	p.cell = min(room/float32(columns), grow(lifeMost))
	p.left, p.right = side/2, side+p.cell*float32(columns)+side/2
	p.title = titleSize(knots, p.title, p.cell-2*lifePad)
	for i, k := range knots {
		w := p.write(k)
		w.x = side + p.cell*float32(i%columns)
		p.words = append(p.words, w)
	}
	for from := 0; from < n; from += columns {
		if from > 0 {
			p.height += grow(lifeSkip)
		}
		r := p.row(from, min(from+columns, n), p.height)
		p.rows = append(p.rows, r)
		p.height += r.height
	}
	return p
}

// titleSize makes all titles a little smaller if that saves lines: of two
// words that nearly fit, or of one that would be broken.
func titleSize(knots []Knot, size, room float32) float32 {
	best, fewest := size, math.MaxInt
	for _, try := range []float32{size, size * 0.92, size * 0.84} {
		lines := 0
		for _, k := range knots {
			lines += len(wrap(k.Title, try, true, max(1, room-moreWidth(k, try)), 0))
		}
		if lines < fewest {
			best, fewest = try, lines
		}
	}
	return best
}

func moreWidth(k Knot, size float32) float32 {
	if k.Tapped == nil || k.Title == "" {
		return 0
	}
	return textWidth(lifeMore, size, true)
}

func (p *lifePlan) write(k Knot) lifeWords {
	room := max(1, p.cell-2*lifePad)
	lines := func(text string, size float32, bold bool, room float32, most int) []string {
		if text == "" {
			return nil
		}
		return wrap(text, size, bold, room, most)
	}
	w := lifeWords{
		title:  lines(k.Title, p.title, true, room-moreWidth(k, p.title), 2),
		when:   lines(k.When, p.when, false, room, 2),
		detail: lines(k.Detail, p.detail, false, room, 3),
	}
	if len(w.title) > 0 && k.Tapped != nil {
		w.title[len(w.title)-1] += lifeMore
	}
	return w
}

// row measures a row by the longest words in it.
func (p *lifePlan) row(from, to int, top float32) lifeRow {
	var above, below float32
	for _, w := range p.words[from:to] {
		above = max(above, float32(len(w.title))*lineHeight(p.title, true))
		below = max(below, p.whenHeight(w)+float32(len(w.detail))*lineHeight(p.detail, false))
	}
	line := lifePad + above + p.reach()
	high := float32(math.Ceil(float64(line + p.reach() + below + lifePad)))
	return lifeRow{from, to, top, top + line, max(touch(), high)}
}

func (p *lifePlan) whenHeight(w lifeWords) float32 {
	return float32(len(w.when)) * lineHeight(p.when, false)
}

// reach is how far a knot keeps words from the line.
func (p *lifePlan) reach() float32 { return p.ring + lifeWide + 4 }
