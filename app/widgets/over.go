package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Over puts content over the window, no wider or taller than it, and gives the
// way to take it away again. Escape does nothing: the content has a button for it.
func Over(win fyne.Window, content fyne.CanvasObject) (shut func()) {
	c := win.Canvas()
	before := c.Focused()
	body := &fyne.Container{Layout: &overLayout{canvas: c}, Objects: []fyne.CanvasObject{container.NewVScroll(content)}}
	pop := widget.NewModalPopUp(body, c)
	pop.Show()
	return func() {
		pop.Hide()
		if before != nil {
			c.Focus(before)
		}
	}
}

// overLayout gives the content the height it needs at the width there is.
type overLayout struct{ canvas fyne.Canvas }

func (l *overLayout) width() float32 {
	return max(100, min(grow(askWide), l.canvas.Size().Width-24))
}

func (l *overLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	w := l.width()
	h := heightAt(objs[0].(*container.Scroll).Content, w-2*askPad) + 2*askPad
	return fyne.NewSize(w, min(h, min(grow(askTall), l.canvas.Size().Height-24)))
}

func (l *overLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	objs[0].Move(fyne.NewPos(askPad, askPad))
	objs[0].Resize(fyne.NewSize(size.Width-2*askPad, size.Height-2*askPad))
}
