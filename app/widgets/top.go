package widgets

import "fyne.io/fyne/v2"

// NewTop keeps an object at the top of its space, no higher than most units: what lies beside it may be longer.
func NewTop(o fyne.CanvasObject, most float32) *fyne.Container {
	return &fyne.Container{Layout: topLayout{most}, Objects: []fyne.CanvasObject{o}}
}

type topLayout struct{ most float32 }

func (l topLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	put(objs[0], 0, 0, size.Width, min(size.Height, max(grow(l.most), objs[0].MinSize().Height)))
}

func (l topLayout) MinSize(objs []fyne.CanvasObject) fyne.Size { return objs[0].MinSize() }
