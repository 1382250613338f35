package widgets

import "fyne.io/fyne/v2"

// NewPair puts two things side by side; the left one takes the share of the width. height is their height, or, below 2, the part
// of the width that they are tall.
func NewPair(left, right fyne.CanvasObject, share, height float32) *fyne.Container {
	return &fyne.Container{Layout: &pairLayout{share: share, height: height}, Objects: []fyne.CanvasObject{left, right}}
}

type pairLayout struct{ share, height, last float32 }

func (l *pairLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	w := size.Width * l.share
	put(objs[0], 0, 0, w-gap/2, size.Height)
	put(objs[1], w+gap/2, 0, size.Width-w-gap/2, size.Height)
}

func (l *pairLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	if l.height < 2 {
		return fyne.NewSize(200, max(l.last, 200)*l.height)
	}
	return fyne.NewSize(200, grow(l.height))
}
