package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Input is the text entry inside a Field.
type Input struct {
	widget.Entry
	focused bool
	focus   func() // told when the focus comes or goes
}

func newInput() *Input {
	i := &Input{}
	i.Wrapping = fyne.TextWrapOff
	i.Scroll = fyne.ScrollHorizontalOnly
	i.ExtendBaseWidget(i)
	return i
}

// FocusGained puts the cursor in.
func (i *Input) FocusGained() {
	i.focused = true
	reveal(i)
	i.Entry.FocusGained()
	i.tell()
}

// FocusLost takes the cursor out.
func (i *Input) FocusLost() {
	i.focused = false
	i.Entry.FocusLost()
	i.tell()
}

func (i *Input) tell() {
	if i.focus != nil {
		i.focus()
	}
}

// KeyDown notes that keys are told of, so that holding Enter in a field does
// not go on to press what comes after it.
func (i *Input) KeyDown(e *fyne.KeyEvent) {
	keysTold = true
	i.Entry.KeyDown(e)
}

// largeTheme is the current theme with larger text and more room, so that a
// text field is about as tall as a button.
type largeTheme struct{}

func (largeTheme) now() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

// Color is that of the current theme.
func (l largeTheme) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	return l.now().Color(n, v)
}

// Font is that of the current theme.
func (l largeTheme) Font(s fyne.TextStyle) fyne.Resource { return l.now().Font(s) }

// Icon is that of the current theme.
func (l largeTheme) Icon(n fyne.ThemeIconName) fyne.Resource { return l.now().Icon(n) }

// Size is that of the current theme, but larger for text.
func (l largeTheme) Size(n fyne.ThemeSizeName) float32 {
	s := l.now().Size(n)
	switch n {
	case theme.SizeNameText:
		return s * 1.25
	case theme.SizeNameInnerPadding:
		return max(s, 14)
	case theme.SizeNameInputBorder:
		return 0 // the Field draws its own border
	}
	return s
}
