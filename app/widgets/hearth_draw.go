package widgets

import "math"

// Where things stand on the board. The flames must end below the window and
// the lid, so that no fire hides what the picture has to tell.
const (
	potLeft, potRight, potTop, potFoot = 52.0, 168.0, 80.0, 152.0
	bedTop                             = 190.0
	hearthLine                         = 2.5
)

// paintHearth draws the picture from the back to the front.
func paintHearth(p *pen, s HearthSpec, wide, tall float64) {
	b := newBoard(p, wide, tall)
	if b.k < 0.05 {
		return
	}
	paintBackFlames(b, s)
	paintStand(b)
	paintPot(b, s)
	paintWindow(b, s.Water)
	paintFrontFlames(b, s)
	paintEmbers(b, s.Embers)
	paintFront(b, s.Draught)
	if !s.Lid {
		paintMouth(b, s)
		paintLid(b.moved(98, 50, -17))
		return
	}
	paintJets(b, s)
	paintLid(b.moved(110, potTop, 0))
}

func paintStand(b board) {
	b.line(5, Ink, Point{38, 155}, Point{182, 155})
	b.line(5, Ink, Point{46, 155}, Point{41, bedTop})
	b.line(5, Ink, Point{174, 155}, Point{179, bedTop})
}

func paintPot(b board, s HearthSpec) {
	for _, side := range []float64{-1, 1} {
		at := func(x, y float64) Point { return Point{110 + side*x, y} }
		b.line(5, Ink, at(58, 96), at(72, 96), at(72, 112), at(58, 112))
	}
	b.area(rounded(potLeft, potTop, potRight, potFoot, 0, 12), White, Ink, 0)
	// The shaded side makes it round.
	b.area(rounded(150, potTop, potRight, potFoot, 0, 12), Pale, Ink, 0)
	b.area(rounded(potLeft, potTop, potRight, potFoot, 0, 12), clear, Ink, hearthLine)
}

// paintWindow shows the water. When it is low a frame of the colour of harm
// stands around it: of no water at all nothing else could be seen.
func paintWindow(b board, water float64) {
	const left, top, right, foot = 90.0, 92.0, 130.0, 140.0
	in := Blue
	if water < waterLow {
		in = Vermilion
		b.area(rounded(left-5, top-5, right+5, foot+5, 6, 6), Vermilion, Ink, 0)
	}
	b.area(rounded(left, top, right, foot, 3, 3), White, Ink, 0)
	y := foot - water*(foot-top)
	if water > 0 {
		b.area(rounded(left, min(y, foot-1), right, foot, 0, 0), in, Ink, 0)
	}
	b.area(rounded(left, top, right, foot, 3, 3), clear, Ink, hearthLine)
	y = foot - waterLow*(foot-top)
	b.line(2, Ink, Point{left - 12, y}, Point{left - 7, y})
	b.line(2, Ink, Point{right + 7, y}, Point{right + 12, y})
}

// paintFront draws the block below the fire; its flap slides up and leaves a
// dark hole as high as the draught.
func paintFront(b board, draught float64) {
	const left, top, right, foot = 72.0, 197.0, 148.0, 227.0
	b.area(rounded(18, 192, 202, 228, 4, 0), Pale, Ink, hearthLine)
	b.area(rounded(left, top, right, foot, 0, 0), Ink, Ink, hearthLine)
	edge := foot - draught*(foot-top)
	if edge-top > 1 {
		b.area(rounded(left+1, top+1, right-1, edge, 0, 0), White, Ink, hearthLine)
	}
	if edge-top > 10 {
		b.line(3.5, Ink, Point{100, edge - 6}, Point{120, edge - 6})
	}
}

// paintMouth shows that the pot is open, and the steam over it. The steam
// keeps to the side where the lid is lifted.
func paintMouth(b board, s HearthSpec) {
	var rim []Point
	for _, q := range arcPoints(Point{}, 58, 0, 360) {
		rim = append(rim, Point{110 + q.X, potTop + q.Y*0.13})
	}
	b.area(rim, InkSoft, Ink, hearthLine)
	if s.Jet > 0 {
		paintPuffs(b, jet{from: Point{164, 72}, to: Point{198, 18}, length: s.Jet, wide: 13, in: steam, tick: s.Tick})
	}
}

// paintLid draws the lid around the middle of its rim. The left valve has its
// spout turned away to the left; the right one is plain.
func paintLid(b board) {
	b.line(7, Ink, Point{-24, -12}, Point{-24, -26}, Point{-33, -31})
	b.line(7, Ink, Point{24, -12}, Point{24, -26})
	b.line(9, Ink, Point{24, -24}, Point{24, -26})
	b.line(5, Ink, Point{-8, -14}, Point{-8, -24}, Point{8, -24}, Point{8, -14})
	var dome []Point
	for i := range 25 {
		t := float64(i)/12 - 1
		dome = append(dome, Point{t * 58, -4 - 15*math.Sqrt(1-min(1, math.Pow(t*t, 1.4)))})
	}
	b.area(dome, White, Ink, hearthLine)
	b.area(rounded(-64, -5, 64, 5, 3, 3), Pale, Ink, hearthLine)
}
