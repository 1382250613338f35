package widgets

import "fyne.io/fyne/v2"

// Watch, if set, is told of every widget that a person can touch, when it is first drawn, with
// the way to its present text and, of a field, to what is typed in it. A test run of the
// real window uses it to find where to click; nothing else does.
var Watch func(o fyne.CanvasObject, text, value func() string)

func watch(o fyne.CanvasObject, text func() string) {
	if Watch != nil {
		Watch(o, text, func() string {
			if f, ok := o.(interface{ Text() string }); ok {
				return f.Text()
			}
			return ""
		})
	}
}
