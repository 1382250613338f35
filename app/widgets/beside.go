package widgets

import "fyne.io/fyne/v2"

// NewBeside puts a left object of at least a width, and of a good quarter of it all, beside one that takes the rest; below the width narrow they stand
// one above the other, the left one first.
func NewBeside(left, right fyne.CanvasObject, width, narrow float32) *fyne.Container {
	return &fyne.Container{Layout: besideLayout{width, narrow}, Objects: []fyne.CanvasObject{left, right}}
}

type besideLayout struct{ width, narrow float32 }

func (l besideLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	if size.Width < l.narrow {
		h := min(heightAt(objs[0], size.Width), size.Height*0.55)
		put(objs[0], 0, 0, size.Width, h)
		put(objs[1], 0, h+gap, size.Width, size.Height-h-gap)
		return
	}
	w := max(grow(l.width), size.Width*0.29)
	put(objs[0], 0, 0, w, size.Height)
	put(objs[1], w+gap, 0, size.Width-w-gap, size.Height)
}

func (l besideLayout) MinSize(objs []fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 300) }

// NewUnder puts a body under a head, without a margin; the body takes what is left.
func NewUnder(head, body fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: underLayout{}, Objects: []fyne.CanvasObject{head, body}}
}

type underLayout struct{}

func (underLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	h := heightAt(objs[0], size.Width)
	put(objs[0], 0, 0, size.Width, h)
	put(objs[1], 0, h, size.Width, size.Height-h)
}

func (underLayout) MinSize(objs []fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 300) }
