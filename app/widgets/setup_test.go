package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// open shows an object in a test window of the given size.
func open(t *testing.T, o fyne.CanvasObject, w, h float32) fyne.Window {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(NewTheme(nil, nil, 1))
	win := test.NewTempWindow(t, o)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	keysTold = false
	return win
}

func key(f fyne.Focusable, n fyne.KeyName) { f.TypedKey(&fyne.KeyEvent{Name: n}) }
