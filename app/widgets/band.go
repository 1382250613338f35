package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// NewBand frames content with the hatch of cautions on all sides: the sign that what is inside is not the
// real thing. It fills its space.
func NewBand(content fyne.CanvasObject) *fyne.Container {
	stripes := canvas.NewRasterWithPixels(hatch{9}.pixel)
	ground := canvas.NewRectangle(Paper)
	return &fyne.Container{Layout: bandLayout{}, Objects: []fyne.CanvasObject{stripes, ground, content}}
}

// bandBorder is how thick the hatch is.
const bandBorder = 7

type bandLayout struct{}

func (bandLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	put(objs[0], 0, 0, size.Width, size.Height)
	put(objs[1], bandBorder, bandBorder, size.Width-2*bandBorder, size.Height-2*bandBorder)
	put(objs[2], bandBorder, bandBorder, size.Width-2*bandBorder, size.Height-2*bandBorder)
}

func (bandLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	return objs[2].MinSize().AddWidthHeight(2*bandBorder, 2*bandBorder)
}
