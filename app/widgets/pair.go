package widgets

import "fyne.io/fyne/v2"

// NewPair puts two pictures side by side, both as tall as `height`; the left one takes the share.
func NewPair(left, right fyne.CanvasObject, share, height float32) *fyne.Container {
	return &fyne.Container{Layout: pairLayout{share, height}, Objects: []fyne.CanvasObject{left, right}}
}

type pairLayout struct{ share, height float32 }

func (l pairLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	w := size.Width * l.share
	put(objs[0], 0, 0, w-gap/2, size.Height)
	put(objs[1], w+gap/2, 0, size.Width-w-gap/2, size.Height)
}

func (l pairLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, grow(l.height)) }
