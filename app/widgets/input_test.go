package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestNumPad(t *testing.T) {
	var last, done string
	n := NewNumPad("ok", func(s string) { last = s }, func(s string) { done += s + ";" })
	w := open(t, n, 320, 340)
	for _, k := range []int{11, 9, 0, 10, 10, 4} { // back 0 1 . . 5
		test.Tap(n.keys[k])
	}
	if last != "1.5" || w.Canvas().Focused() != fyne.Focusable(n) {
		t.Error(last)
	}
	n.TypedRune(',')
	n.TypedRune('x')
	n.TypedRune('2')
	key(n, fyne.KeyBackspace)
	key(n, fyne.KeyReturn)
	test.Tap(n.keys[12])
	if n.Text() != "1.5" || done != "1.5;1.5;" {
		t.Error(n.Text(), done)
	}
	n.SetText("abc,5,5")
	if n.Text() != "0.55" {
		t.Error(n.Text())
	}
	n.SetText("12345678901234")
	if len(n.Text()) != padMost {
		t.Error(n.Text())
	}
}

func TestFieldChain(t *testing.T) {
	typed, sent := "", 0
	a, b := NewField("A", "", func(s string) { typed = s }), NewField("B", "", nil)
	Chain(a, b)
	b.Submitted = func() { sent++ }
	w := open(t, NewColumn(a, b), 400, 300)
	test.Type(a.Entry, "hi")
	key(a.Entry, fyne.KeyReturn)
	if typed != "hi" || w.Canvas().Focused() != fyne.Focusable(b.Entry) || sent != 0 {
		t.Error(typed, sent)
	}
	key(b.Entry, fyne.KeyReturn)
	if sent != 1 {
		t.Error(sent)
	}
	h := a.MinSize().Height
	a.SetError("wrong")
	if a.MinSize().Height <= h {
		t.Error("the fault has no room")
	}
}

func TestAsk(t *testing.T) {
	b := NewButton("Ask", Do, nil)
	w := open(t, b, 1024, 600)
	w.Canvas().Focus(b)
	var got []bool
	ask := func() {
		Ask(w, "Sure?", strings.Repeat("long text ", 400), "yes", "no", func(v bool) { got = append(got, v) })
	}
	ask()
	no := w.Canvas().Focused().(*Button)
	if no.Text != "no" {
		t.Fatal("the safe answer should have the focus")
	}
	if h := w.Canvas().Overlays().Top().MinSize().Height; h > 600 {
		t.Error("too tall:", h)
	}
	key(no, fyne.KeyEscape)
	if w.Canvas().Overlays().Top() != nil || w.Canvas().Focused() != fyne.Focusable(b) {
		t.Error("focus not restored")
	}
	ask()
	w.Canvas().FocusNext()
	yes := w.Canvas().Focused().(*Button)
	key(yes, fyne.KeyReturn)
	key(yes, fyne.KeyReturn)
	ask()
	w.Canvas().Unfocus()
	w.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if len(got) != 3 || got[0] || !got[1] || got[2] {
		t.Error(got)
	}
}

func TestWrap(t *testing.T) {
	test.NewTempApp(t)
	got := wrap("one two three four", 16, false, textWidth("one two", 16, false)+1, 2)
	if len(got) != 2 || got[0] != "one two" || !strings.HasSuffix(got[1], ellipsis) {
		t.Error(got)
	}
	if got := wrap("a\nb", 16, false, 100, 0); len(got) != 2 {
		t.Error(got)
	}
	for _, l := range wrap("Ñandúñandúñandú", 16, false, 40, 0) {
		if textWidth(l, 16, false) > 40 {
			t.Error(l)
		}
	}
}
