package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// NewShell is a whole window: a rail at the side of the body when the window
// is at least narrow wide, otherwise a bar below it.
func NewShell(rail *Rail, bar *Bar, body fyne.CanvasObject, narrow float32) *fyne.Container {
	return &fyne.Container{
		Layout:  &shellLayout{narrow: narrow},
		Objects: []fyne.CanvasObject{canvas.NewRectangle(Paper), rail, body, bar},
	}
}

type shellLayout struct{ narrow float32 }

func (l *shellLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	ground, rail, body, bar := objs[0], objs[1], objs[2], objs[3]
	put(ground, 0, 0, size.Width, size.Height)
	if size.Width >= l.narrow {
		bar.Hide()
		rail.Show()
		w := rail.MinSize().Width
		put(rail, 0, 0, w, size.Height)
		put(body, w, 0, size.Width-w, size.Height)
		return
	}
	rail.Hide()
	bar.Show()
	h := heightAt(bar, size.Width)
	put(bar, 0, size.Height-h, size.Width, h)
	put(body, 0, 0, size.Width, size.Height-h)
}

// MinSize is what the narrow form needs, so that the window can be small.
func (l *shellLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	body, bar := objs[2].MinSize(), objs[3].MinSize()
	return fyne.NewSize(max(body.Width, bar.Width), body.Height+grow(58))
}
