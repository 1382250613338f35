package widgets

import "fyne.io/fyne/v2"

// NewCard puts content on a white ground with a rounded border.
func NewCard(content fyne.CanvasObject) fyne.CanvasObject {
	f := newFrame()
	f.paint(White, Line, 2, false)
	return &fyne.Container{
		Layout:  insetLayout{14, 12, f},
		Objects: f.objects(content),
	}
}

// NewInset leaves an empty border of the given widths around content.
func NewInset(x, y float32, content fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: insetLayout{x, y, nil}, Objects: []fyne.CanvasObject{content}}
}

// insetLayout insets the last object and lets a frame fill the whole.
type insetLayout struct {
	x, y  float32
	frame *frame
}

func (l insetLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	if l.frame != nil {
		l.frame.layout(size)
	}
	put(objs[len(objs)-1], l.x, l.y, size.Width-2*l.x, size.Height-2*l.y)
}

func (l insetLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	return objs[len(objs)-1].MinSize().AddWidthHeight(2*l.x, 2*l.y)
}
