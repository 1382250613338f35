package widgets

import "fyne.io/fyne/v2"

// Watch, if set, is told of every widget that a person can touch, when it is first drawn, with
// the way to its present text. A test run of the real window uses it to find
// where to click; nothing else does.
var Watch func(o fyne.CanvasObject, text func() string)

func watch(o fyne.CanvasObject, text func() string) {
	if Watch != nil {
		Watch(o, text)
	}
}
