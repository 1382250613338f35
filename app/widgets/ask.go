package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

const (
	askWide = 520
	askTall = 556 // no question is taller, whatever the window
)

// Ask puts a question over the window. The focus starts on no, the safe
// answer; Escape means no as well. When it is answered the focus goes back to
// where it was and done is told.
func Ask(win fyne.Window, title, text string, yes, no string, done func(bool)) {
	ask(win, Do, title, text, yes, no, done)
}

// AskHarm is Ask where yes loses something, or goes against a warning: it does not look like the way on.
func AskHarm(win fyne.Window, title, text string, yes, no string, done func(bool)) {
	ask(win, Harm, title, text, yes, no, done)
}

func ask(win fyne.Window, look Look, title, text string, yes, no string, done func(bool)) {
	c := win.Canvas()
	before, keys := c.Focused(), c.OnTypedKey()
	var pop *widget.PopUp
	open := true
	answer := func(v bool) {
		if !open {
			return
		}
		open = false
		pop.Hide()
		c.SetOnTypedKey(keys)
		if before != nil {
			c.Focus(before)
		}
		if done != nil {
			done(v)
		}
	}
	yesButton := NewButton(yes, look, func() { answer(true) })
	noButton := NewButton(no, Plain, func() { answer(false) })
	for _, b := range []*Button{yesButton, noButton} {
		b.escape = func() { answer(false) }
	}
	noButton.move = func(int) { c.Focus(yesButton) }
	yesButton.move = func(int) { c.Focus(noButton) }
	c.SetOnTypedKey(func(e *fyne.KeyEvent) {
		if e.Name == fyne.KeyEscape {
			answer(false)
		}
	})
	body := &fyne.Container{Layout: &askLayout{canvas: c}, Objects: []fyne.CanvasObject{
		NewPara(title).heading(),
		container.NewVScroll(NewPara(text)),
		NewFlow(grow(150), noButton, yesButton),
	}}
	pop = widget.NewModalPopUp(body, c)
	pop.Show()
	c.Focus(noButton)
}

// heading makes a paragraph larger and bold.
func (p *Para) heading() *Para {
	p.bold, p.size = true, 20
	return p
}

// askLayout stacks a title, a text that may scroll, and the answers.
type askLayout struct{ canvas fyne.Canvas }

const askPad = 14

func (l *askLayout) width() float32 {
	return max(100, min(grow(askWide), l.canvas.Size().Width-24))
}

// heights asks every part how tall it is; the text gives way when there is
// not enough room for all of it.
func (l *askLayout) heights(objs []fyne.CanvasObject) (title, text, answers float32) {
	wide := l.width() - 2*askPad
	title = heightAt(objs[0], wide)
	answers = heightAt(objs[2], wide)
	text = heightAt(objs[1].(*container.Scroll).Content, wide)
	room := min(askTall, l.canvas.Size().Height-12) - 4*askPad - title - answers
	return title, clamp(text, 0, max(30, room)), answers
}

func (l *askLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	a, b, c := l.heights(objs)
	return fyne.NewSize(l.width(), a+b+c+4*askPad)
}

func (l *askLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	a, _, c := l.heights(objs)
	wide := size.Width - 2*askPad
	put(objs[0], askPad, askPad, wide, a)
	put(objs[2], askPad, size.Height-askPad-c, wide, c)
	put(objs[1], askPad, a+2*askPad, wide, size.Height-a-c-4*askPad)
}
