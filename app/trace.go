package app

import (
	"encoding/json"
	"fmt"
	"os"
	"sync"

	"fyne.io/fyne/v2"

	"mvuke/app/widgets"
)

// Trace is the record of a test run of the real window: a file of events, and a file that tells
// where each thing to touch lies now. A nil Trace records nothing.
type Trace struct {
	mu     sync.Mutex
	path   string
	events *os.File
	things []thing
	last   string
}

type thing struct {
	o           fyne.CanvasObject
	text, value func() string
}

// Spot is where a thing to touch lies, in pixels of the window at scale 1.
type Spot struct {
	Text, Value string
	X, Y, W, H  float32
}

// NewTrace writes events to path and spots to path.spots.
func NewTrace(path string) (*Trace, error) {
	f, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	t := &Trace{path: path, events: f}
	widgets.Watch = func(o fyne.CanvasObject, text, value func() string) {
		t.mu.Lock()
		defer t.mu.Unlock()
		t.things = append(t.things, thing{o, text, value})
	}
	return t, nil
}

// Note records an event.
func (t *Trace) Note(event string) {
	if t == nil {
		return
	}
	fmt.Fprintln(t.events, event)
	t.Dump()
}

// Dump writes where everything lies, if it changed. On the window's own goroutine only.
func (t *Trace) Dump() {
	if t == nil {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	var spots []Spot
	d := fyne.CurrentApp().Driver()
	for _, x := range t.things {
		p := d.AbsolutePositionForObject(x.o)
		if d.CanvasForObject(x.o) == nil {
			continue
		}
		if size := x.o.Size(); x.o.Visible() && (p.X != 0 || p.Y != 0) && size.Width > 1 {
			spots = append(spots, Spot{x.text(), x.value(), p.X, p.Y, size.Width, size.Height})
		}
	}
	b, err := json.Marshal(spots)
	if err != nil || string(b) == t.last {
		return
	}
	t.last = string(b)
	if os.WriteFile(t.path+".spots.part", b, 0o600) == nil {
		_ = os.Rename(t.path+".spots.part", t.path+".spots") // a test that misses one reads the next
	}
}
