package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

const baseText = 16

type paperTheme struct {
	fyne.Theme
	regular, bold fyne.Resource
	scale         float32
}

// NewTheme returns the one theme of the program. It is always light, so that
// the screen can be read in sunlight, and its text size is 16 times scale.
// The fonts are TrueType data; nil keeps the built-in font.
func NewTheme(regular, bold []byte, scale float32) fyne.Theme {
	if !(scale >= 0.5 && scale <= 4) {
		scale = 1
	}
	t := &paperTheme{Theme: theme.DefaultTheme(), scale: scale}
	if len(regular) > 0 {
		t.regular = fyne.NewStaticResource("regular.ttf", regular)
	}
	if len(bold) > 0 {
		t.bold = fyne.NewStaticResource("bold.ttf", bold)
	}
	return t
}

// Font gives the bold or the regular face; there is no italic.
func (t *paperTheme) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Monospace, s.Symbol:
		return t.Theme.Font(s)
	case s.Bold && t.bold != nil:
		return t.bold
	case !s.Bold && t.regular != nil:
		return t.regular
	}
	return t.Theme.Font(s)
}

// Color maps Fyne's names to the palette and ignores the asked-for variant.
func (t *paperTheme) Color(n fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	switch n {
	case theme.ColorNameBackground:
		return Paper
	case theme.ColorNameForeground, theme.ColorNameInputBorder:
		return Ink
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return Blue
	case theme.ColorNameFocus, theme.ColorNameSelection:
		return BlueSoft
	case theme.ColorNameButton, theme.ColorNameInputBackground,
		theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return White
	case theme.ColorNameDisabled, theme.ColorNamePlaceHolder:
		return InkSoft
	case theme.ColorNameDisabledButton, theme.ColorNameHeaderBackground:
		return disabledGround
	case theme.ColorNameError:
		return Vermilion
	case theme.ColorNameSuccess:
		return Green
	case theme.ColorNameWarning:
		return Amber
	case theme.ColorNameForegroundOnError, theme.ColorNameForegroundOnPrimary,
		theme.ColorNameForegroundOnSuccess:
		return White
	case theme.ColorNameForegroundOnWarning:
		return Ink
	case theme.ColorNameSeparator:
		return Line
	case theme.ColorNameScrollBar:
		return InkSoft
	case theme.ColorNameScrollBarBackground:
		return Pale
	case theme.ColorNameHover:
		return color.NRGBA{Ink.R, Ink.G, Ink.B, 0x14}
	case theme.ColorNamePressed:
		return color.NRGBA{Ink.R, Ink.G, Ink.B, 0x28}
	case theme.ColorNameShadow:
		return color.NRGBA{Ink.R, Ink.G, Ink.B, 0x66}
	}
	return t.Theme.Color(n, theme.VariantLight)
}

// Size gives the sizes of text (which follow the scale) and of spaces.
func (t *paperTheme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return baseText * t.scale
	case theme.SizeNameHeadingText:
		return 24 * t.scale
	case theme.SizeNameSubHeadingText:
		return 19 * t.scale
	case theme.SizeNameCaptionText:
		return 13 * t.scale
	case theme.SizeNameInlineIcon:
		return 22 * t.scale
	case theme.SizeNamePadding:
		return 6
	case theme.SizeNameInnerPadding:
		return 8
	case theme.SizeNameInputBorder:
		return 2
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 6
	case theme.SizeNameScrollBar:
		return 18
	case theme.SizeNameScrollBarSmall:
		return 6
	}
	return t.Theme.Size(n)
}
