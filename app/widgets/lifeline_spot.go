package widgets

import "fyne.io/fyne/v2"

// lifeSpot is the ground under a knot that can be tapped: all of its words and
// not only the circle, which would be small for a gloved finger. The line and
// the words are drawn over it, so it shows only the finger and the focus.
type lifeSpot struct {
	pressable
	knot Knot
}

func newLifeSpot(move func(int)) *lifeSpot {
	s := &lifeSpot{}
	s.self, s.move = s, move
	s.ExtendBaseWidget(s)
	return s
}

// drop takes the spot out of use: a key that is still on its way must not act.
func (s *lifeSpot) drop() {
	s.act = nil
	s.Hide()
	if s.focused && fyne.CurrentApp() != nil {
		if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
			c.Unfocus()
		}
	}
}

// AccessibilityLabel is the knot.
func (s *lifeSpot) AccessibilityLabel() string { return s.knot.label() }

// CreateRenderer is called by Fyne.
func (s *lifeSpot) CreateRenderer() fyne.WidgetRenderer {
	watch(s, func() string { return s.knot.Title })
	r := &lifeSpotRenderer{s: s, frame: newFrame()}
	r.Refresh()
	return r
}

type lifeSpotRenderer struct {
	s     *lifeSpot
	frame *frame
}

func (r *lifeSpotRenderer) MinSize() fyne.Size { return fyne.NewSize(touchMin, touch()) }

func (r *lifeSpotRenderer) Layout(size fyne.Size) { r.frame.layout(size) }

func (r *lifeSpotRenderer) Refresh() {
	r.frame.paint(r.s.shade(clear), clear, 0, r.s.focused)
	r.Layout(r.s.Size())
}

func (r *lifeSpotRenderer) Objects() []fyne.CanvasObject { return r.frame.objects() }

func (r *lifeSpotRenderer) Destroy() {}
