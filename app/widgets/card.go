package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// NewCard puts content on a white ground with a rounded border.
func NewCard(content fyne.CanvasObject) fyne.CanvasObject {
	box := canvas.NewRectangle(White)
	box.CornerRadius = radius
	box.StrokeColor, box.StrokeWidth = Line, 1.5
	return &fyne.Container{
		Layout:  insetLayout{14, 12},
		Objects: []fyne.CanvasObject{box, content},
	}
}

// NewInset leaves an empty border of the given widths around content.
func NewInset(x, y float32, content fyne.CanvasObject) *fyne.Container {
	ground := canvas.NewRectangle(clear)
	return &fyne.Container{
		Layout:  insetLayout{x, y},
		Objects: []fyne.CanvasObject{ground, content},
	}
}

// insetLayout fills the first object and insets the second.
type insetLayout struct{ x, y float32 }

func (l insetLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	put(objs[0], 0, 0, size.Width, size.Height)
	put(objs[1], l.x, l.y, size.Width-2*l.x, size.Height-2*l.y)
}

func (l insetLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	return objs[1].MinSize().AddWidthHeight(2*l.x, 2*l.y)
}
