package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Choice lets a person pick one of a few options, all of them in sight.
type Choice struct {
	widget.DisableableWidget
	// Selected is the number of the chosen option, or -1.
	Selected int
	changed  func(int)
	tiles    []*tile
}

// NewChoice makes a row of tiles. The option numbered selected is chosen at
// first; -1 leaves all open. changed is told of every choice a person makes.
func NewChoice(options []string, selected int, changed func(int)) *Choice {
	c := &Choice{Selected: -1, changed: changed}
	for i, text := range options {
		t := newTile(text, func() { c.pick(i) })
		t.move = func(by int) { c.focus(i + by) }
		c.tiles = append(c.tiles, t)
	}
	c.ExtendBaseWidget(c)
	c.SetSelected(selected)
	return c
}

// SetSelected chooses an option without telling changed; -1 chooses none.
func (c *Choice) SetSelected(i int) {
	if i < 0 || i >= len(c.tiles) {
		i = -1
	}
	c.Selected = i
	for n, t := range c.tiles {
		if t.on != (n == i) {
			t.on = n == i
			t.Refresh()
		}
	}
}

// Enable lets the options be chosen again.
func (c *Choice) Enable() {
	c.DisableableWidget.Enable()
	for _, t := range c.tiles {
		t.Enable()
	}
}

// Disable keeps the choice as it is.
func (c *Choice) Disable() {
	c.DisableableWidget.Disable()
	for _, t := range c.tiles {
		t.Disable()
	}
}

func (c *Choice) pick(i int) {
	was := c.Selected
	c.SetSelected(i)
	if c.changed != nil && was != i {
		c.changed(i)
	}
}

func (c *Choice) focus(i int) {
	if i >= 0 && i < len(c.tiles) {
		focusOn(c.tiles[i])
	}
}

// CreateRenderer is called by Fyne.
func (c *Choice) CreateRenderer() fyne.WidgetRenderer {
	objs := make([]fyne.CanvasObject, len(c.tiles))
	for i, t := range c.tiles {
		objs[i] = t
	}
	box := NewFlow(0, objs...)
	l := box.Layout.(*flowLayout)
	l.most = 1.6
	return &boxRenderer{box: box}
}

// boxRenderer renders a widget that is just a container.
type boxRenderer struct{ box *fyne.Container }

func (r *boxRenderer) MinSize() fyne.Size    { return r.box.MinSize() }
func (r *boxRenderer) Layout(size fyne.Size) { r.box.Resize(size) }
func (r *boxRenderer) Refresh()              { r.box.Refresh() }
func (r *boxRenderer) Destroy()              {}
func (r *boxRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box}
}
