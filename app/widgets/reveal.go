package widgets

import (
	"weak"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// scrolls are the scrolling areas in use, held weakly: a page that is thrown
// away takes its area with it.
var scrolls []weak.Pointer[container.Scroll]

func remember(s *container.Scroll) {
	kept := scrolls[:0]
	for _, w := range scrolls {
		if w.Value() != nil {
			kept = append(kept, w)
		}
	}
	scrolls = append(kept, weak.Make(s))
}

// reveal scrolls the area that an object is in until the object can be seen.
// Fyne does not do this when the Tab key moves the focus.
func reveal(f fyne.Focusable) {
	o, ok := f.(fyne.CanvasObject)
	if !ok || fyne.CurrentApp() == nil {
		return
	}
	d := fyne.CurrentApp().Driver()
	on := d.CanvasForObject(o)
	if on == nil {
		return
	}
	for _, w := range scrolls {
		s := w.Value()
		if s == nil || !s.Visible() || d.CanvasForObject(s) != on {
			continue
		}
		at := d.AbsolutePositionForObject(o).Subtract(d.AbsolutePositionForObject(s.Content))
		in := s.Content.Size()
		if at.X < 0 || at.Y < 0 || at.X >= in.Width || at.Y+o.Size().Height > in.Height+1 {
			continue
		}
		low := at.Y + o.Size().Height + gap - s.Size().Height
		if off := clamp(s.Offset.Y, min(low, at.Y), max(0, at.Y-gap)); off != s.Offset.Y {
			s.ScrollToOffset(fyne.NewPos(s.Offset.X, max(0, off)))
		}
	}
}
