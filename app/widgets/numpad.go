package widgets

import (
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

const padMost = 9 // digits and point

// NumPad is a number pad to tap on, with the number above it. It also takes
// digits, point, comma, Backspace and Enter from a keyboard.
type NumPad struct {
	widget.BaseWidget
	ok            string
	changed, done func(string)
	value         string
	point         string
	focused       bool
	keys          []*padKey
	latch         pressable // so that holding Enter counts once
}

var _ fyne.Focusable = (*NumPad)(nil)

// NewNumPad makes a pad. okText is on the key that finishes; changed is told
// of every digit and done of the finished number, always with a "." before
// the decimals. Either may be nil.
func NewNumPad(okText string, changed func(string), done func(string)) *NumPad {
	n := &NumPad{ok: okText, changed: changed, done: done, point: "."}
	n.latch.act = n.finish
	for _, d := range "123456789" {
		n.keys = append(n.keys, newPadKey(string(d), false, func() { n.tap(d) }))
	}
	n.keys = append(n.keys,
		newPadKey("0", false, func() { n.tap('0') }),
		newPadKey(n.point, false, func() { n.tap('.') }),
		newPadKey("", false, func() { focusOn(n); n.back() }),
		newPadKey(okText, true, func() { focusOn(n); n.finish() }))
	n.ExtendBaseWidget(n)
	return n
}

// SetPoint changes the decimal sign that is shown, such as a comma.
func (n *NumPad) SetPoint(sign string) {
	n.point = sign
	n.keys[10].text = sign
	n.Refresh()
}

// Text is the number so far, with a "." before the decimals.
func (n *NumPad) Text() string { return n.value }

// SetText puts a number in. What a person could not have typed is left out.
func (n *NumPad) SetText(s string) {
	n.value = ""
	for _, r := range s {
		n.append(r)
	}
	n.Refresh()
}

func (n *NumPad) append(r rune) bool {
	switch {
	case utf8.RuneCountInString(n.value) >= padMost:
		return false
	case r == '.' || r == ',':
		if strings.Contains(n.value, ".") {
			return false
		}
		if n.value == "" {
			n.value = "0"
		}
		n.value += "."
	case r >= '0' && r <= '9':
		if n.value == "0" {
			n.value = ""
		}
		n.value += string(r)
	default:
		return false
	}
	return true
}

func (n *NumPad) tap(r rune) {
	focusOn(n)
	n.TypedRune(r)
}

func (n *NumPad) back() {
	if n.value != "" {
		n.value = n.value[:len(n.value)-1]
		n.tell()
	}
}

func (n *NumPad) tell() {
	n.Refresh()
	if n.changed != nil {
		n.changed(n.value)
	}
}

func (n *NumPad) finish() {
	if n.done != nil {
		n.done(n.value)
	}
}

// FocusGained shows the focus ring.
func (n *NumPad) FocusGained() {
	n.focused = true
	reveal(n)
	n.Refresh()
}

// FocusLost hides the focus ring.
func (n *NumPad) FocusLost() {
	n.focused, n.latch.down, n.latch.spent = false, false, false
	n.Refresh()
}

// TypedRune takes a digit or a decimal sign.
func (n *NumPad) TypedRune(r rune) {
	if n.append(r) {
		n.tell()
	}
}

// TypedKey takes Backspace, Delete and Enter.
func (n *NumPad) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyBackspace:
		n.back()
	case fyne.KeyDelete:
		if n.value != "" {
			n.value = ""
			n.tell()
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		n.latch.TypedKey(e)
	}
}

// KeyDown notes that a key is held.
func (n *NumPad) KeyDown(e *fyne.KeyEvent) { n.latch.KeyDown(e) }

// KeyUp ends what KeyDown began.
func (n *NumPad) KeyUp(e *fyne.KeyEvent) { n.latch.KeyUp(e) }

// Tapped takes the keyboard.
func (n *NumPad) Tapped(*fyne.PointEvent) { focusOn(n) }
