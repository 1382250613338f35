package app

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
)

// scan types as a scanner does: fast, with Enter at the end, to whatever has the focus or to the window.
func (s *stage) scan(text string) {
	s.t.Helper()
	c := s.win.Canvas()
	for _, r := range text {
		if f := c.Focused(); f != nil {
			f.TypedRune(r)
		} else if c.OnTypedRune() != nil {
			c.OnTypedRune()(r)
		}
	}
	key := &fyne.KeyEvent{Name: fyne.KeyReturn}
	if f := c.Focused(); f != nil {
		f.TypedKey(key)
	} else if c.OnTypedKey() != nil {
		c.OnTypedKey()(key)
	}
}

func (s *stage) ready() work.PackView {
	s.t.Helper()
	ps, err := s.d.OnShelf(100)
	if err != nil {
		s.t.Fatal(err)
	}
	for _, p := range ps {
		if p.State.Good() && !p.Out() && p.Made != nil {
			return p
		}
	}
	s.t.Fatal("no pack is ready")
	return work.PackView{}
}

// A scan finds its pack on every screen of the rail, also with the focus on a button, which it does not press; one tap then issues it.
func TestAScanFindsThePackOnAnyScreen(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	p := s.ready()
	for _, place := range places {
		s.shell.Go(place, model.ID{})
		s.scan(work.ScanCode(p))
		if s.shell.place != screens.ToPack || s.shell.id != p.ID {
			t.Fatalf("on %s a scan leads to %s", place, s.shell.place)
		}
	}
	s.shell.Go(screens.ToToday, model.ID{})
	before := s.d.Acts()
	s.win.Canvas().FocusNext()
	s.scan(work.ScanCode(p))
	if s.shell.place != screens.ToPack || s.d.Acts() != before {
		t.Errorf("with the focus on a button a scan leads to %s, %d acts", s.shell.place, s.d.Acts()-before)
	}
	s.tap("Issue to maternity")
	if x, err := s.d.Pack(p.ID); err != nil || x.Where() != model.MoveIssued || s.d.Acts() != before+1 {
		t.Errorf("one scan and one tap: %s, %v", x.Where(), err)
	}
}

// Signs far apart are no scan, and neither is a short word.
func TestTypingIsNoScan(t *testing.T) {
	var x scanner
	now := time.Now()
	for i, r := range "NDVA0001K*AB" {
		x.sign(r, now.Add(time.Duration(i)*4*time.Second))
	}
	if got := x.end(now.Add(48 * time.Second)); got != "" {
		t.Errorf("%q", got)
	}
	for _, r := range "NDVA" {
		x.sign(r, now)
	}
	if got := x.end(now); got != "" {
		t.Errorf("%q", got)
	}
	for i, r := range "NDVA0001K*AB" {
		x.sign(r, now.Add(time.Duration(i)*20*time.Millisecond))
	}
	if got := x.end(now.Add(250 * time.Millisecond)); got != "NDVA0001K*AB" {
		t.Errorf("%q", got)
	}
}
