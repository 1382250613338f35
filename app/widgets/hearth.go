package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// HearthSpec is what stands on the fire. Every part runs from 0 to 1.
type HearthSpec struct {
	// Flame is the height of the flames, 0 for none; Embers the glow of the
	// bed under them.
	Flame, Embers float64
	// Jet is the length of the steam at the left valve, which points away.
	Jet float64
	// Broken makes that jet splutter: puffs and drops, not one plume.
	Broken bool
	// Relief is the jet of the right valve, in the colour of harm.
	Relief float64
	// Lid says that the lid is on. Without it there is no valve at work, and
	// Jet is the steam over the open mouth.
	Lid bool
	// Water is its height in the pot; below 0.15 it has the colour of harm.
	Water float64
	// Draught is how far the flap below is open.
	Draught float64
	// Tick changes what moves a little from one drawing to the next; equal
	// ticks give equal pictures.
	Tick int
}

const waterLow = 0.15

// safe returns a spec that can be drawn whatever the numbers were.
func (s HearthSpec) safe() HearthSpec {
	for _, v := range []*float64{&s.Flame, &s.Embers, &s.Jet, &s.Relief, &s.Water, &s.Draught} {
		*v = clamp(*v, 0, 1)
	}
	if !s.Lid {
		s.Relief, s.Broken = 0, false
	}
	if s.Jet == 0 {
		s.Broken = false
	}
	// What does not move need not be drawn anew with every tick.
	if s.Flame == 0 && s.Jet == 0 && s.Relief == 0 {
		s.Tick = 0
	}
	return s
}

// Hearth is a picture of a pot on an open fire. It shows and takes nothing.
type Hearth struct {
	widget.BaseWidget
	spec HearthSpec
}

// NewHearth makes the picture.
func NewHearth(spec HearthSpec) *Hearth {
	h := &Hearth{spec: spec.safe()}
	h.ExtendBaseWidget(h)
	return h
}

// SetSpec changes the whole picture; a spec that would draw the same one again
// costs nothing, so that it may be called many times a second.
func (h *Hearth) SetSpec(spec HearthSpec) {
	if spec = spec.safe(); spec != h.spec {
		h.spec = spec
		h.Refresh()
	}
}

// CreateRenderer is called by Fyne.
func (h *Hearth) CreateRenderer() fyne.WidgetRenderer {
	return &hearthRenderer{drawing(func(p *pen, wide, tall float64) { paintHearth(p, h.spec, wide, tall) })}
}

// hearthRenderer has a single raster: laying one picture on the screen is
// cheaper than some forty canvas objects.
type hearthRenderer struct{ face *canvas.Raster }

func (r *hearthRenderer) MinSize() fyne.Size { return fyne.NewSize(hearthWide, hearthTall) }

func (r *hearthRenderer) Layout(size fyne.Size) { put(r.face, 0, 0, size.Width, size.Height) }

func (r *hearthRenderer) Refresh() { r.face.Refresh() }

func (r *hearthRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.face} }

func (r *hearthRenderer) Destroy() {}
