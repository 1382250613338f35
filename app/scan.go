package app

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
)

// A scanner types fast and ends with Enter. Where no field takes it, it finds the pack on any screen.

// scanPause is the longest time between two signs of one scan. Slow machines deliver late; and a person who types a whole number where no field is wants the same.
const scanPause = 3 * time.Second

// scanLeast is the shortest scan: a number of ours has nine signs.
const scanLeast = 9

// scanner gathers what a scanner types.
type scanner struct {
	text strings.Builder
	last time.Time
}

// sign takes one sign; now is when it came.
func (x *scanner) sign(r rune, now time.Time) {
	if now.Sub(x.last) > scanPause {
		x.text.Reset()
	}
	x.text.WriteRune(r)
	x.last = now
}

// end gives what was scanned, or nothing where it was too short or too slow, and begins anew.
func (x *scanner) end(now time.Time) string {
	text := x.text.String()
	x.text.Reset()
	if now.Sub(x.last) > scanPause || len(text) < scanLeast {
		return ""
	}
	return text
}

// listen hears a scanner on the whole window. The first sign takes the focus away from whatever button has it, so that the Enter at the end
// presses none.
func (s *Shell) listen() {
	c := s.win.Canvas()
	c.SetOnTypedRune(func(r rune) {
		if c.Overlays().Top() != nil || s.learn != nil {
			return
		}
		c.Unfocus()
		s.scan.sign(r, time.Now())
	})
	c.SetOnTypedKey(func(e *fyne.KeyEvent) {
		if e.Name != fyne.KeyReturn && e.Name != fyne.KeyEnter {
			return
		}
		if text := s.scan.end(time.Now()); text != "" {
			s.scanned(text)
		}
	})
}

// scanned opens the pack of a scan.
func (s *Shell) scanned(text string) {
	ids, err := s.stage.Desk.ByNumber(text)
	switch {
	case err != nil:
		s.stage.Tell(err)
	case len(ids) == 1:
		s.note("scanned")
		s.Go(screens.ToPack, ids[0])
	case len(ids) > 1:
		s.stage.Message(s.stage.Say("packs.double", text))
	default:
		s.stage.Message(s.stage.Say("packs.scan-none", text))
	}
}
