package main

import (
	"errors"
	"fmt"
	"os"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/assets"
)

// sorry shows one calm sentence in place of a register that cannot be opened.
func sorry(a fyne.App, win fyne.Window, err error) int {
	w := assets.For(assets.Fallback)
	text := w.Say("refuse.unknown", err.Error())
	var r *work.Refusal
	if errors.As(err, &r) && w.Has("refuse."+r.Code) {
		text = w.Say("refuse."+r.Code, r.Args...)
	}
	fmt.Fprintln(os.Stderr, "mvuke:", text)
	a.Settings().SetTheme(widgets.NewTheme(assets.Regular, assets.Bold, 1))
	win.SetTitle(w.Say("app.name"))
	win.SetContent(widgets.NewFrame(widgets.NewHead(w.Say("app.name"), ""),
		widgets.NewColumn(widgets.NewNotice(widgets.Vermilion, text, ""), widgets.NewButton(w.Say("do.close"), widgets.Do, a.Quit))))
	win.Show()
	a.Run()
	return 1
}
