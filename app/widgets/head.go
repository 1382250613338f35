package widgets

import "fyne.io/fyne/v2"

const (
	framePad = 16
	headGap  = 8
)

// NewHead is the head line of a page: a bold title and a soft word at its right,
// below it where both do not fit.
func NewHead(title, right string) *fyne.Container {
	return &fyne.Container{Layout: headLayout{}, Objects: []fyne.CanvasObject{NewPara(title).heading(), NewSoft(right).SetAlign(fyne.TextAlignTrailing)}}
}

type headLayout struct{}

// split is the width of the title and of the word beside it.
func (headLayout) split(objs []fyne.CanvasObject, width float32) (left, right float32) {
	if objs[1].(*Para).Text == "" {
		return width, 0
	}
	return width * 0.76, width*0.24 - headGap
}

func (l headLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	w := objs[0].Size().Width + objs[1].Size().Width
	if objs[1].(*Para).Text != "" {
		w += headGap
	}
	if w <= headGap {
		w = 600
	}
	return fyne.NewSize(120, l.height(objs, w))
}

func (l headLayout) height(objs []fyne.CanvasObject, width float32) float32 {
	a, b := l.split(objs, width)
	h := heightAt(objs[0], a)
	if b > 0 {
		h = max(h, heightAt(objs[1], b))
	}
	return h
}

func (l headLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	a, b := l.split(objs, size.Width)
	objs[0].Move(fyne.NewPos(0, 0))
	objs[0].Resize(fyne.NewSize(a, size.Height))
	objs[1].Move(fyne.NewPos(size.Width-b, 0))
	objs[1].Resize(fyne.NewSize(b, size.Height))
}

// NewFrame is a page: a head that stays and a body that takes the rest.
func NewFrame(head, body fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: frameLayout{}, Objects: []fyne.CanvasObject{head, body}}
}

type frameLayout struct{}

func (frameLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 200) }

func (frameLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	w := size.Width - 2*framePad
	h := heightAt(objs[0], w)
	objs[0].Move(fyne.NewPos(framePad, framePad*0.75))
	objs[0].Resize(fyne.NewSize(w, h))
	top := framePad*0.75 + h + headGap
	objs[1].Move(fyne.NewPos(framePad, top))
	objs[1].Resize(fyne.NewSize(w, max(0, size.Height-top-headGap)))
}
