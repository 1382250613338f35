package widgets

import (
	"fyne.io/fyne/v2"
)

// NewPictured puts a line picture, drawn in a square of 100 by 100, at the left of an object.
func NewPictured(lines [][]Point, o fyne.CanvasObject) *fyne.Container {
	pic := drawing(func(p *pen, w, h float64) {
		side := min(w, h)
		for _, line := range lines {
			pts := make([]Point, len(line))
			for i, q := range line {
				pts[i] = Point{(w-side)/2 + q.X*side/100, (h-side)/2 + q.Y*side/100}
			}
			p.stroke(pts, max(side/25, 1.2), Ink)
		}
	})
	return &fyne.Container{Layout: picturedLayout{}, Objects: []fyne.CanvasObject{pic, o}}
}

// pictureWide is the side of a picture beside a line.
const pictureWide = 56

type picturedLayout struct{}

func (picturedLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	w := grow(pictureWide)
	put(objs[0], 0, max(0, (size.Height-w)/2), w, min(w, size.Height))
	put(objs[1], w+gap, 0, size.Width-w-gap, size.Height)
}

func (picturedLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	m := objs[1].MinSize()
	return fyne.NewSize(m.Width+grow(pictureWide)+gap, max(m.Height, grow(pictureWide)))
}
