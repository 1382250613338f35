package widgets

import (
	"image/color"
	"math"
)

// steam is a pale grey-blue; its edge of ink is what shows in sunlight.
var steam = blend(BlueSoft, Line, 0.25)

// jet is something blown from a place towards another, at length 1 up to it.
type jet struct {
	from, to     Point
	length, wide float64
	in           color.Color
	tick         int
}

func paintJets(b board, s HearthSpec) {
	if s.Relief > 0 {
		paintPlume(b, jet{from: Point{135, 51}, to: Point{196, 16}, length: s.Relief, wide: 12, in: Vermilion, tick: s.Tick + 7})
	}
	left := jet{from: Point{76, 49}, to: Point{18, 17}, length: s.Jet, wide: 13, in: steam, tick: s.Tick}
	switch {
	case s.Jet > 0 && s.Broken:
		paintPuffs(b, left)
		paintDrops(b, left)
	case s.Jet > 0:
		paintPlume(b, left)
	}
}

// at is the place on the way, and how far to either side the jet reaches. The
// shortest jet is still long enough to be seen.
func (j jet) at(t float64) (Point, float64) {
	far := t * (0.3 + 0.7*j.length)
	return Point{j.from.X + (j.to.X-j.from.X)*far, j.from.Y + (j.to.Y-j.from.Y)*far}, 2.5 + (j.wide-2.5)*far
}

// plume is a cone that ends in a small cloud, larger on all sides by more.
func (j jet) plume(more float64) [][]Point {
	dir := unit(j.from, j.to)
	const n = 8
	left, right := make([]Point, 0, 2*n+2), make([]Point, 0, n+1)
	for i := range n + 1 {
		mid, half := j.at(float64(i) / n * 0.9)
		half += more
		left = append(left, Point{mid.X + dir.Y*half, mid.Y - dir.X*half})
		right = append(right, Point{mid.X - dir.Y*half, mid.Y + dir.X*half})
	}
	for i := n; i >= 0; i-- {
		left = append(left, right[i])
	}
	out := [][]Point{left}
	end, half := j.at(0.9)
	for i := range 3 {
		side := (float64(i) - 1) * half * 0.62
		ahead := half * (0.1 + 0.12*sway(j.tick, 60+i))
		if i == 1 {
			ahead += half * 0.3
		}
		r := half*(0.62+0.05*sway(j.tick, 70+i)) + more
		out = append(out, arcPoints(Point{end.X + dir.X*ahead - dir.Y*side, end.Y + dir.Y*ahead + dir.X*side}, r, 0, 360))
	}
	return out
}

func paintPlume(b board, j jet) {
	b.union(Ink, j.plume(2)...)
	b.union(j.in, j.plume(0)...)
}

// paintPuffs draws clouds that travel along the way with gaps between them;
// they wander with the tick, so the splutter also moves.
func paintPuffs(b board, j jet) {
	n := int(math.Round(1.5 + 1.5*j.length))
	dir := unit(j.from, j.to)
	phase := 0.6 + 0.3*sway(j.tick, 80)
	for i := range n {
		mid, half := j.at((float64(i) + phase) / float64(n))
		r := 2 + half*0.5
		puff := func(more float64) [][]Point {
			var out [][]Point
			for c := range 3 {
				to := float64(c)*120 + 40*sway(j.tick, 90+i*3+c)
				out = append(out, arcPoints(onCircle(mid, r*0.55, to), r*0.8+more, 0, 360))
			}
			return out
		}
		side := 2 * sway(j.tick, 120+i)
		mid = Point{mid.X - dir.Y*side, mid.Y + dir.X*side}
		b.union(Ink, puff(2)...)
		b.union(j.in, puff(0)...)
	}
}

// paintDrops lets water fall out of the way, below it.
func paintDrops(b board, j jet) {
	for i := range 3 {
		t := 0.35 + 0.3*float64(i)
		mid, half := j.at(t)
		y := mid.Y + half + 12 + 5*float64(i%2) + 3*sway(j.tick, 140+i)
		b.area([]Point{{mid.X, y - 6}, {mid.X + 3, y}, {mid.X + 2, y + 2.6}, {mid.X, y + 3.4}, {mid.X - 2, y + 2.6}, {mid.X - 3, y}}, Blue, Blue, 1.5)
	}
}
