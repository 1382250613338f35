package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Rail is the dark list of places at the side of a wide window.
type Rail struct {
	widget.BaseWidget
	title  *Big
	items  []*railItem
	list   *fyne.Container
	scroll *container.Scroll
	foot   *fyne.Container
}

// NewRail makes a rail. A tap on an item selects it and calls its Tapped.
func NewRail(title string, items []RailItem) *Rail {
	r := &Rail{title: NewBig(title, 22, Paper, true)}
	for i, it := range items {
		t := newRailItem(it.Text, false, func() {
			r.Select(i)
			if it.Tapped != nil {
				it.Tapped()
			}
		})
		t.move = func(by int) { r.focus(i + by) }
		t.gained = func() { r.reveal(t) }
		r.items = append(r.items, t)
	}
	objs := make([]fyne.CanvasObject, len(r.items))
	for i, t := range r.items {
		objs[i] = t
	}
	r.list = &fyne.Container{Layout: railList{}, Objects: objs}
	r.scroll = container.NewVScroll(r.list)
	r.foot = container.NewStack()
	r.ExtendBaseWidget(r)
	return r
}

// Select shows the item numbered i as the current one; -1 for none.
func (r *Rail) Select(i int) { selectItem(r.items, i) }

// SetFooter puts an object at the foot of the rail, below a thin line. It
// stands on the dark ground.
func (r *Rail) SetFooter(o fyne.CanvasObject) {
	r.foot.Objects = nil
	if o != nil {
		r.foot.Objects = []fyne.CanvasObject{o}
	}
	r.Refresh()
}

func (r *Rail) focus(i int) {
	if i >= 0 && i < len(r.items) {
		focusOn(r.items[i])
	}
}

// reveal scrolls so that an item can be seen.
func (r *Rail) reveal(t *railItem) {
	top, high := t.Position().Y, t.Size().Height
	off := clamp(r.scroll.Offset.Y, top+high-r.scroll.Size().Height, top)
	if off != r.scroll.Offset.Y {
		r.scroll.ScrollToOffset(fyne.NewPos(0, max(0, off)))
	}
}

// CreateRenderer is called by Fyne.
func (r *Rail) CreateRenderer() fyne.WidgetRenderer {
	p := &railRenderer{r: r, ground: canvas.NewRectangle(Ink), line: canvas.NewRectangle(railSoft)}
	return p
}

type railRenderer struct {
	r            *Rail
	ground, line *canvas.Rectangle
}

func (p *railRenderer) width() float32 { return grow(132) }

func (p *railRenderer) MinSize() fyne.Size {
	h := grow(58)*2 + p.head() + p.footHeight()
	return fyne.NewSize(p.width(), h)
}

func (p *railRenderer) head() float32 { return p.r.title.MinSize().Height + 30 }

func (p *railRenderer) footHeight() float32 {
	if len(p.r.foot.Objects) == 0 {
		return 0
	}
	return heightAt(p.r.foot.Objects[0], p.width()) + 18
}

func (p *railRenderer) Layout(size fyne.Size) {
	put(p.ground, 0, 0, size.Width, size.Height)
	put(p.r.title, 20, 16, size.Width-26, p.r.title.MinSize().Height)
	foot := p.footHeight()
	put(p.r.scroll, 0, p.head(), size.Width, size.Height-p.head()-foot)
	p.line.Hidden = foot == 0
	p.line.FillColor = blend(Ink, railSoft, 0.5)
	put(p.line, 16, size.Height-foot+3, size.Width-32, 1.5)
	put(p.r.foot, 0, size.Height-foot+12, size.Width, foot-18)
}

func (p *railRenderer) Refresh() {
	p.Layout(p.r.Size())
	p.ground.Refresh()
	p.line.Refresh()
	p.r.title.Refresh()
	p.r.list.Refresh()
	p.r.foot.Refresh()
}

func (p *railRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{p.ground, p.r.title, p.r.scroll, p.line, p.r.foot}
}

func (p *railRenderer) Destroy() {}

// railList puts items one below the other.
type railList struct{}

func (railList) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	h := grow(58)
	for i, o := range objs {
		put(o, 0, float32(i)*h, size.Width, h)
	}
}

func (railList) MinSize(objs []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(grow(132), float32(len(objs))*grow(58))
}
