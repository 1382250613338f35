package widgets

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"pgregory.net/rapid"
)

func demoHearth() HearthSpec {
	return HearthSpec{Flame: 0.6, Embers: 0.7, Jet: 0.6, Lid: true, Water: 0.6, Draught: 0.5, Tick: 3}
}

// countedHearth counts how often the picture is told to draw itself anew.
type countedHearth struct {
	Hearth
	turns int
}

type countedRenderer struct {
	fyne.WidgetRenderer
	c *countedHearth
}

func (c *countedHearth) CreateRenderer() fyne.WidgetRenderer {
	return &countedRenderer{c.Hearth.CreateRenderer(), c}
}

func (r *countedRenderer) Refresh() {
	r.c.turns++
	r.WidgetRenderer.Refresh()
}

func TestHearthRefreshesOnlyOnChange(t *testing.T) {
	c := &countedHearth{}
	c.ExtendBaseWidget(c)
	open(t, c, 220, 230)
	turns := func(s HearthSpec) int {
		before := c.turns
		c.SetSpec(s)
		return c.turns - before
	}
	s := demoHearth()
	if turns(s) == 0 {
		t.Error("a change was not drawn")
	}
	if turns(s) != 0 {
		t.Error("an equal spec was drawn again")
	}
	s.Tick++
	if turns(s) == 0 {
		t.Error("the flames stand still")
	}
	s.Water = nan
	if turns(s) == 0 || turns(s) != 0 {
		t.Error("not a number, twice, is one change")
	}
	s.Flame, s.Jet, s.Relief = 0, 0, 0
	turns(s)
	if s.Tick++; turns(s) != 0 {
		t.Error("nothing moves and yet it was drawn again")
	}
}

// hearthPicture draws one spec at a size.
func hearthPicture(s HearthSpec, wide, tall int) *image.RGBA {
	p := &pen{img: image.NewRGBA(image.Rect(0, 0, wide, tall)), scale: 1}
	paintHearth(p, s.safe(), float64(wide), float64(tall))
	return p.img
}

// differs counts the pixels in a part of the board that are not the same.
func differs(a, b *image.RGBA, part image.Rectangle) (n int) {
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if a.RGBAAt(x, y) != b.RGBAAt(x, y) {
				n++
			}
		}
	}
	return n
}

func TestHearthPartsStayApart(t *testing.T) {
	var (
		all    = image.Rect(0, 0, hearthWide, hearthTall)
		fire   = image.Rect(0, 150, hearthWide, 188)
		lid    = image.Rect(0, 0, hearthWide, 88)
		window = image.Rect(88, 92, 132, 148)
		left   = image.Rect(0, 0, 76, 50)
		right  = image.Rect(144, 0, hearthWide, 50)
		front  = image.Rect(60, 192, 160, hearthTall)
	)
	for name, c := range map[string]struct {
		change    func(s *HearthSpec)
		in        image.Rectangle
		untouched []image.Rectangle
	}{
		"low flame":  {func(s *HearthSpec) { s.Flame = 0.1 }, fire, []image.Rectangle{lid, window, front}},
		"high flame": {func(s *HearthSpec) { s.Flame = 1 }, fire, []image.Rectangle{lid, window, front}},
		"no flame":   {func(s *HearthSpec) { s.Flame = 0 }, fire, []image.Rectangle{lid, window, front}},
		"embers":     {func(s *HearthSpec) { s.Embers = 0.3 }, fire, []image.Rectangle{lid, window}},
		"jet":        {func(s *HearthSpec) { s.Jet = 1 }, left, []image.Rectangle{right, fire, window}},
		"broken":     {func(s *HearthSpec) { s.Broken = true }, left, []image.Rectangle{right, fire, window}},
		"relief":     {func(s *HearthSpec) { s.Relief = 0.1 }, right, []image.Rectangle{left, fire, window}},
		"water":      {func(s *HearthSpec) { s.Water = 0.5 }, window, []image.Rectangle{lid, fire}},
		"draught":    {func(s *HearthSpec) { s.Draught = 0.6 }, front, []image.Rectangle{lid, fire}},
		"lid":        {func(s *HearthSpec) { s.Lid = false }, lid, []image.Rectangle{fire, window, front}},
		"tick":       {func(s *HearthSpec) { s.Tick++ }, fire, []image.Rectangle{window, front}},
	} {
		s := demoHearth()
		before := hearthPicture(s, hearthWide, hearthTall)
		if differs(before, hearthPicture(s, hearthWide, hearthTall), all) != 0 {
			t.Error("equal specs, unequal pictures")
		}
		c.change(&s)
		after := hearthPicture(s, hearthWide, hearthTall)
		if n := differs(before, after, c.in); n < 20 {
			t.Error(name, "changes only", n)
		}
		for _, part := range c.untouched {
			if n := differs(before, after, part); n != 0 {
				t.Error(name, "also changes", part, n)
			}
		}
	}
}

func TestHearthSmallestFlameShows(t *testing.T) {
	above := image.Rect(50, 160, 170, 180) // between the bed and the pot
	for tick := range 40 {
		s := HearthSpec{Lid: true, Embers: 1, Tick: tick}
		none := hearthPicture(s, hearthWide, hearthTall)
		s.Flame = 0.01
		if n := differs(none, hearthPicture(s, hearthWide, hearthTall), above); n < 60 {
			t.Error(tick, n)
		}
	}
}

// has counts the pixels of exactly this colour.
func has(img *image.RGBA, part image.Rectangle, want color.NRGBA) (n int) {
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if nrgba(img.RGBAAt(x, y)) == want {
				n++
			}
		}
	}
	return n
}

func TestHearthColoursOfHarm(t *testing.T) {
	window := image.Rect(86, 90, 134, 150)
	for water, want := range map[float64]color.NRGBA{0: Vermilion, 0.14: Vermilion, 0.15: Blue, 1: Blue} {
		s := demoHearth()
		s.Water = water
		img := hearthPicture(s, hearthWide, hearthTall)
		if other := map[color.NRGBA]color.NRGBA{Blue: Vermilion, Vermilion: Blue}[want]; has(img, window, want) < 100 || has(img, window, other) != 0 {
			t.Error("water", water)
		}
	}
	s, jets := demoHearth(), image.Rect(0, 0, hearthWide, 60)
	if has(hearthPicture(s, hearthWide, hearthTall), jets, Vermilion) != 0 {
		t.Error("the colour of harm without harm")
	}
	if s.Relief = 0.05; has(hearthPicture(s, hearthWide, hearthTall), jets, Vermilion) < 30 {
		t.Error("the shortest relief cannot be seen")
	}
}

func TestHearthDrawsAnything(t *testing.T) {
	h := NewHearth(HearthSpec{Flame: nan, Embers: -1, Jet: 7, Relief: math.Inf(1), Water: nan, Draught: 7, Lid: true})
	if h.spec != (HearthSpec{Jet: 1, Relief: 1, Draught: 1, Lid: true}) {
		t.Error(h.spec)
	}
	w := open(t, h, 220, 230)
	if got := h.MinSize(); got != fyne.NewSize(220, 230) {
		t.Error(got)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := anyNumber()
		h.SetSpec(HearthSpec{n.Draw(t, "flame"), n.Draw(t, "embers"), n.Draw(t, "jet"), rapid.Bool().Draw(t, "broken"),
			n.Draw(t, "relief"), rapid.Bool().Draw(t, "lid"), n.Draw(t, "water"), n.Draw(t, "draught"), rapid.Int().Draw(t, "tick")})
		w.Resize(fyne.NewSize(rapid.Float32Range(0, 400).Draw(t, "w"), rapid.Float32Range(0, 300).Draw(t, "h")))
		w.Canvas().Capture()
	})
}
