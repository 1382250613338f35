package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// NewBand frames content with the hatch of cautions on all sides: the sign that what is inside is not the
// real thing. It fills its space.
func NewBand(content fyne.CanvasObject) *fyne.Container {
	objs := []fyne.CanvasObject{content, canvas.NewRectangle(Paper)}
	for range 4 { // four strips: a picture as large as the window would be drawn anew for its border alone
		objs = append(objs, canvas.NewRasterWithPixels(hatch{9}.pixel))
	}
	objs[0], objs[1] = objs[1], objs[0]
	return &fyne.Container{Layout: bandLayout{}, Objects: objs}
}

// bandBorder is how thick the hatch is.
const bandBorder = 7

type bandLayout struct{}

func (bandLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	const b = bandBorder
	put(objs[0], b, b, size.Width-2*b, size.Height-2*b)
	put(objs[1], b, b, size.Width-2*b, size.Height-2*b)
	put(objs[2], 0, 0, size.Width, b)
	put(objs[3], 0, size.Height-b, size.Width, b)
	put(objs[4], 0, b, b, size.Height-2*b)
	put(objs[5], size.Width-b, b, b, size.Height-2*b)
}

func (bandLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	return objs[1].MinSize().AddWidthHeight(2*bandBorder, 2*bandBorder)
}
