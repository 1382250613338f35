package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// pressable is the shared behaviour of everything that is tapped: it can be
// focused, hovered, disabled, and acts once for a tap or for Enter or Space.
type pressable struct {
	widget.DisableableWidget
	self    fyne.Focusable // the widget around this
	act     func()
	escape  func()    // what the Escape key does, if anything
	gained  func()    // told when the focus arrives
	move    func(int) // arrow keys: -1 back, 1 forward
	focused bool
	hovered bool
	pressed bool // a finger or mouse button is on it
	down    bool // a key is held (only some drivers tell)
	spent   bool // ... and has already acted
}

var (
	_ fyne.Tappable      = (*pressable)(nil)
	_ fyne.Focusable     = (*pressable)(nil)
	_ fyne.Disableable   = (*pressable)(nil)
	_ desktop.Hoverable  = (*pressable)(nil)
	_ desktop.Mouseable  = (*pressable)(nil)
	_ desktop.Keyable    = (*pressable)(nil)
	_ desktop.Cursorable = (*pressable)(nil)
)

// keysTold is true once the driver has told of a key going down. From then on
// a key counts only where it went down: holding Enter cannot run on from one
// question into the next.
var keysTold bool

func (p *pressable) run() {
	if !p.Disabled() && p.act != nil {
		p.act()
	}
}

// Tapped takes the focus and acts.
func (p *pressable) Tapped(*fyne.PointEvent) {
	if !p.Disabled() {
		focusOn(p.self)
	}
	p.run()
}

// FocusGained shows the focus ring.
func (p *pressable) FocusGained() {
	p.focused = true
	reveal(p.self)
	if p.gained != nil {
		p.gained()
	}
	p.Refresh()
}

// FocusLost hides the focus ring.
func (p *pressable) FocusLost() {
	p.focused, p.down, p.spent = false, false, false
	p.Refresh()
}

// TypedRune hands letters to whoever listens on the whole window, such as for a scanner that types; a space was already handled as a key.
func (p *pressable) TypedRune(r rune) {
	o, ok := p.self.(fyne.CanvasObject)
	if !ok || r == ' ' || fyne.CurrentApp() == nil {
		return
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// TypedKey acts on Enter, Return and Space, once for each time it is pressed.
func (p *pressable) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if (keysTold && !p.down) || p.spent && p.down {
			return // a repeat of a key that is still held
		}
		p.spent = true
		p.run()
	case fyne.KeyEscape:
		if p.escape != nil {
			p.escape()
		}
	case fyne.KeyLeft, fyne.KeyUp:
		if p.move != nil {
			p.move(-1)
		}
	case fyne.KeyRight, fyne.KeyDown:
		if p.move != nil {
			p.move(1)
		}
	}
}

// KeyDown notes that a key is held, so that its repeats do nothing.
func (p *pressable) KeyDown(*fyne.KeyEvent) {
	keysTold, p.down, p.spent = true, true, false
}

// KeyUp ends what KeyDown began.
func (p *pressable) KeyUp(*fyne.KeyEvent) { p.down, p.spent = false, false }

// MouseIn darkens the part a little.
func (p *pressable) MouseIn(*desktop.MouseEvent) { p.hovered = true; p.Refresh() }

// MouseMoved does nothing.
func (p *pressable) MouseMoved(*desktop.MouseEvent) {}

// MouseOut undoes MouseIn.
func (p *pressable) MouseOut() {
	p.hovered, p.pressed = false, false
	p.Refresh()
}

// MouseDown darkens the part more, so that a tap is felt at once.
func (p *pressable) MouseDown(*desktop.MouseEvent) { p.pressed = true; p.Refresh() }

// MouseUp undoes MouseDown.
func (p *pressable) MouseUp(*desktop.MouseEvent) { p.pressed = false; p.Refresh() }

// shade is the colour c as it looks under a mouse or a finger.
func (p *pressable) shade(c color.NRGBA) color.NRGBA {
	t := 0.0
	if p.hovered {
		t = 0.07
	}
	if p.pressed {
		t = 0.22
	}
	if p.Disabled() || t == 0 {
		return c
	}
	if c == Ink {
		return blend(c, White, t+0.06)
	}
	return blend(c, Ink, t)
}

// Cursor is a hand over something that can be tapped.
func (p *pressable) Cursor() desktop.Cursor {
	if p.Disabled() {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// AccessibilityRole tells assistive programs that this can be pressed.
func (p *pressable) AccessibilityRole() fyne.AccessibleRole {
	return fyne.AccessibleRoleButton
}

// focusOn gives w the keyboard if it is on a canvas.
func focusOn(w fyne.Focusable) {
	o, ok := w.(fyne.CanvasObject)
	if !ok || fyne.CurrentApp() == nil {
		return
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil {
		c.Focus(w)
	}
}
