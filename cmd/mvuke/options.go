package main

import (
	"flag"
	"fmt"
	"os"
	"runtime"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app"
	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/app/work"
	"mvuke/model"
)

// clock is the machine's; only the test of the real window puts another in its place.
var clock model.Clock = home.SystemClock{}

type options struct {
	data, lang, size, shots, tracePath string
	demo, empty, report                bool
	quitAfter                          time.Duration
}

func parse(args []string) (o options, err error) {
	f := flag.NewFlagSet("mvuke", flag.ContinueOnError)
	f.StringVar(&o.data, "data", "", "data folder (default: the person's own)")
	f.StringVar(&o.lang, "lang", "", "language: en, fr")
	f.BoolVar(&o.demo, "demo", false, "an invented clinic in a folder that is thrown away")
	f.StringVar(&o.size, "size", "1024x600", "size of the window")
	f.StringVar(&o.shots, "shots", "", "folder: take a picture of every screen, then end")
	f.StringVar(&o.tracePath, "trace", "", "file: record of events, for tests of the window")
	f.BoolVar(&o.empty, "empty-window", false, "an empty window of the same toolkit, to measure against")
	f.DurationVar(&o.quitAfter, "quit-after", 0, "end after this time")
	f.BoolVar(&o.report, "report", false, "print first frame, memory and idle load as JSON at the end")
	return o, f.Parse(args)
}

func (o options) window() fyne.Size {
	var w, h float32
	if _, err := fmt.Sscanf(o.size, "%fx%f", &w, &h); err != nil || w < 300 || h < 300 {
		w, h = 1024, 600
	}
	return fyne.NewSize(w, h)
}

// desk opens the person's own register, a named one, or the demo's.
func (o options) desk() (*work.Desk, error) {
	dir := o.data
	if dir == "" && !o.demo && o.shots == "" {
		var err error
		if dir, err = home.Where(); err != nil {
			return nil, err
		}
	}
	if dir == "" || o.demo {
		if dir == "" {
			tmp, err := os.MkdirTemp("", "mvuke-demo-")
			if err != nil {
				return nil, err
			}
			dir = tmp
		}
		if err := demo.Fresh(dir, time.Now()); err != nil {
			return nil, err
		}
	}
	d, err := work.Open(dir, work.Options{Clock: clock})
	if err == nil && (o.demo || o.shots != "") {
		if people, e := d.People(); e == nil && len(people) > 0 {
			d.Act(people[0].ID)
		}
	}
	return d, err
}

func (o options) trace() *app.Trace {
	if o.tracePath == "" {
		return nil
	}
	t, err := app.NewTrace(o.tracePath)
	if err != nil {
		fmt.Fprintln(os.Stderr, "mvuke:", err)
		os.Exit(2)
	}
	return t
}

// display says whether a window can be shown at all.
func display() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}
