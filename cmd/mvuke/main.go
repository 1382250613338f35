// Command mvuke is the window: the register of a clinic's sterile supply, with the pot
// on the fire in the middle of it.
package main

import (
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"

	"mvuke/app"
	"mvuke/assets"
)

func main() {
	o, err := parse(os.Args[1:])
	if err != nil {
		os.Exit(2) // the flag package has said why
	}
	if !display() {
		fmt.Fprintln(os.Stderr, assets.For(assets.Fallback).Say("cli.no-display"))
		os.Exit(1)
	}
	a := fyneapp.NewWithID("example.mvuke.register")
	win := a.NewWindow("")
	win.Resize(o.window())
	win.SetPadded(false)
	os.Exit(start(a, win, o))
}

// start opens the register and runs the window until it is closed.
func start(a fyne.App, win fyne.Window, o options) int {
	report := newReport(a, o)
	if o.empty {
		win.Show()
		report.run()
		a.Run()
		return 0
	}
	d, err := o.desk()
	if err != nil {
		return sorry(a, win, err)
	}
	defer d.Close()
	shell := app.New(d, win, app.Options{Language: o.lang, Trace: o.trace(), Quiet: o.shots != "" || o.tracePath != ""})
	shell.Start()
	win.Show()
	report.run()
	go shell.LetTimePass()
	go shell.Check()
	if o.shots != "" {
		go takeShots(a, win, shell, d, o.shots)
	}
	a.Run()
	shell.Stop()
	return 0
}
