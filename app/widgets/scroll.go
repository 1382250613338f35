package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// NewScroll lets content that is too tall be scrolled. It keeps the scroll bar
// off the content, settles wrapped text before it measures the height, and
// brings whatever gets the focus into sight.
func NewScroll(content fyne.CanvasObject) *fyne.Container {
	s := container.NewVScroll(nil)
	s.Content = &fyne.Container{Layout: edgeLayout{}, Objects: []fyne.CanvasObject{content}}
	remember(s)
	return &fyne.Container{Layout: scrollLayout{}, Objects: []fyne.CanvasObject{s}}
}

const scrollEdge = 12

// edgeLayout leaves room for the scroll bar at the right.
type edgeLayout struct{}

func (edgeLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	put(objs[0], 0, 0, size.Width-scrollEdge, size.Height)
}

func (edgeLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	return objs[0].MinSize().AddWidthHeight(scrollEdge, 0)
}

type scrollLayout struct{}

func (scrollLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	s := objs[0].(*container.Scroll)
	heightAt(s.Content, size.Width)
	put(s, 0, 0, size.Width, size.Height)
	s.Refresh()
}

func (scrollLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	m := objs[0].MinSize()
	return fyne.NewSize(max(m.Width, objs[0].(*container.Scroll).Content.MinSize().Width), max(m.Height, 60))
}

// SameScroll has a page that takes another's place stand as far down as that did.
func SameScroll(before, now fyne.CanvasObject) {
	from, to := scrollIn(before), scrollIn(now)
	if from == nil || to == nil {
		return
	}
	to.ScrollToOffset(from.Offset)
}

// scrollIn is the first scroll in a page.
func scrollIn(o fyne.CanvasObject) *container.Scroll {
	switch x := o.(type) {
	case *container.Scroll:
		return x
	case *fyne.Container:
		for _, y := range x.Objects {
			if s := scrollIn(y); s != nil {
				return s
			}
		}
	}
	return nil
}
