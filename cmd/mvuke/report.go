package main

import (
	"encoding/json"
	"os"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
)

// report measures the window for the bench: time to the first turn of the event loop, memory, and
// the load of doing nothing.
type report struct {
	a     fyne.App
	o     options
	first time.Duration
}

var began = time.Now()

func newReport(a fyne.App, o options) *report {
	r := &report{a: a, o: o}
	a.Lifecycle().SetOnStarted(func() { r.first = time.Since(began) })
	return r
}

func (r *report) run() {
	if r.o.quitAfter == 0 {
		return
	}
	go func() {
		rest := r.o.quitAfter / 2
		time.Sleep(r.o.quitAfter - rest)
		before := cpu()
		time.Sleep(rest)
		idle := (cpu() - before).Seconds() / rest.Seconds() * 100
		if r.o.report {
			_ = json.NewEncoder(os.Stdout).Encode(map[string]any{"firstFrameMs": r.first.Milliseconds(), "rssKB": rss(), "idleCPUPercent": idle})
		}
		fyne.Do(r.a.Quit)
	}()
}

// rss is the resident memory in KB, Linux only; 0 elsewhere.
func rss() int {
	b, err := os.ReadFile("/proc/self/statm")
	if f := strings.Fields(string(b)); err == nil && len(f) > 1 {
		pages, _ := strconv.Atoi(f[1])
		return pages * os.Getpagesize() / 1024
	}
	return 0
}

// cpu is the time this process has used, Linux only.
func cpu() time.Duration {
	b, err := os.ReadFile("/proc/self/stat")
	if err != nil {
		return 0
	}
	f := strings.Fields(string(b)[strings.LastIndexByte(string(b), ')')+1:])
	if len(f) < 13 {
		return 0
	}
	user, _ := strconv.Atoi(f[11])
	system, _ := strconv.Atoi(f[12])
	return time.Duration(user+system) * 10 * time.Millisecond // clock ticks of 1/100 s
}
