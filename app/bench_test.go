package app

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"mvuke/app/demo"
	"mvuke/app/practice"
	"mvuke/app/work"
	"mvuke/model"
)

// benchWindow is a shell on the demo clinic with no fire, in the toolkit's window in memory (software drawing).
func benchWindow(b *testing.B) (*Shell, *demo.Clock, fyne.Window) {
	b.Helper()
	b.Setenv("MVUKE_STATE", b.TempDir())
	clk := demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))
	d, err := work.Open(b.TempDir(), work.Options{Clock: clk})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { d.Close() })
	if err := d.SetUp(demo.Answers("en")); err != nil {
		b.Fatal(err)
	}
	test.NewTempApp(b)
	win := test.NewTempWindow(b, nil)
	s := New(d, win, Options{Language: "en", Quiet: true})
	win.Resize(fyne.NewSize(1024, 600))
	return s, clk, win
}

// BenchmarkPracticeBeat is a tenth of a second of practice at sixty times, drawn by software: it must fit
// into a tenth of a second many times over.
func BenchmarkPracticeBeat(b *testing.B) {
	s, clk, win := benchWindow(b)
	l, _ := practice.LessonOf("open")
	v := s.Practise(l)
	if v == nil {
		b.Fatal("practice did not begin")
	}
	b.Cleanup(func() { v.Session().Close() })
	p := practice.NewPlayer(v.Session())
	if err := p.Begin(); err != nil {
		b.Fatal(err)
	}
	p.Stop = func() bool { return v.Session().Scene.Needle() > 120 }
	if err := p.Run(); err != nil {
		b.Fatal(err)
	}
	v.Show()
	v.Session().Clock.SetRate(practice.Fastest)
	for b.Loop() {
		clk.Pass(100 * time.Millisecond)
		v.Tick()
		win.Canvas().Capture()
	}
}

// BenchmarkPracticeBeatBaseline draws the same window with nothing moving in it.
func BenchmarkPracticeBeatBaseline(b *testing.B) {
	s, _, win := benchWindow(b)
	s.Go("today", model.ID{})
	for b.Loop() {
		win.Canvas().Capture()
	}
}
