package widgets

import "math"

// A tongue of fire: where it stands, how tall and how wide it is when the fire
// is at its highest.
type tongue struct{ x, tall, wide float64 }

// Behind the pot the tongues at its sides are the tall ones: only there can
// they be seen beside it. Those in front stay under the window.
var (
	backTongues = []tongue{{32, 54, 22}, {45, 92, 26}, {62, 62, 28}, {81, 48, 30}, {102, 46, 30},
		{124, 48, 30}, {144, 50, 30}, {161, 62, 28}, {176, 88, 26}, {189, 52, 22}}
	frontTongues = []tongue{{56, 32, 24}, {77, 38, 26}, {98, 33, 24}, {121, 38, 26}, {143, 33, 24}, {164, 37, 24}}
)

// tongueLeast is how tall the smallest fire is: it shows above the lumps of the
// bed, so that it can be told from none.
const tongueLeast = 19

// outline walks clockwise around the tongue, made larger on all sides by more.
func (t tongue) outline(flame, lean, more float64) []Point {
	const n = 12
	tall := tongueLeast + (t.tall-tongueLeast)*flame + more*2.2
	half := t.wide/2*(0.55+0.45*flame) + more
	side := func(i int, sign float64) Point {
		u := float64(i) / n
		// Widest a little above the ground, hollow towards the tip.
		body := math.Pow(1-u, 1.15) * (0.8 + 1.1*u)
		bend := lean * (u*u*1.4 - 0.5*math.Sin(u*math.Pi))
		return Point{t.x + bend + sign*half*body, bedTop + 4 - u*tall}
	}
	out := make([]Point, 0, 2*n+1)
	for i := range n {
		out = append(out, side(i, -1))
	}
	for i := n; i >= 0; i-- {
		out = append(out, side(i, 1))
	}
	return out
}

// paintTongues draws a row as one body of fire: an edge, the fire in it, and
// hearts. Three fillings for a whole row keep it cheap.
func paintTongues(b board, row []tongue, s HearthSpec, first int, edge float64) {
	var under, body, heart [][]Point
	for i, t := range row {
		lift := s.Flame + (0.06+0.06*s.Flame)*sway(s.Tick, first+i)
		lean := 7 * sway(s.Tick, first+i+40) * (0.4 + 0.6*s.Flame)
		under = append(under, t.outline(lift, lean, edge))
		body = append(body, t.outline(lift, lean, 0))
		t.wide, t.tall = t.wide*0.45, t.tall*0.6
		heart = append(heart, t.outline(lift*0.9, lean*0.4, 0))
	}
	b.union(Vermilion, under...)
	b.union(Amber, body...)
	b.union(Vermilion, heart...)
}

func paintBackFlames(b board, s HearthSpec) {
	if s.Flame > 0 {
		paintTongues(b, backTongues, s, 0, 2.5)
	}
}

func paintFrontFlames(b board, s HearthSpec) {
	if s.Flame > 0 {
		paintTongues(b, frontTongues, s, 20, 2.5)
	}
}

// emberOrder is the order in which the lumps of the bed catch, the middle
// first. That more of them glow can be counted; a shade could not be told.
var emberOrder = []int{8, 5, 2, 0, 3, 1, 4, 6, 9, 7}

func paintEmbers(b board, glow float64) {
	n := float64(len(emberOrder))
	for i, order := range emberOrder {
		mid := Point{35 + float64(i)*16.7, bedTop - 1 - float64(i%2)*2}
		lit := clamp(glow*n-float64(order), 0, 1)
		lump := func(r float64) (out []Point) {
			for c := range 7 {
				out = append(out, onCircle(mid, r*(1+0.16*sway(i, c)), float64(c)*360/7))
			}
			return out
		}
		b.area(lump(8.4), blend(InkSoft, Vermilion, lit), Ink, 2)
		if lit > 0 {
			b.area(lump(4*lit), Amber, Ink, 0)
		}
	}
}
