package app

import (
	"os"
	"strconv"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"mvuke/app/demo"
	"mvuke/app/screens"
	"mvuke/app/work"
	"mvuke/model"
)

// largePacks is the number of packs of the large register; five to a cycle. MVUKE_BENCH_PACKS states another.
const largePacks = 100_000

var (
	largeOnce sync.Once
	largeDir  string
	largeErr  error
)

var largeNow = time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC)

// large opens a desk on the large register, which is made once a run.
func large(b *testing.B) *work.Desk {
	b.Helper()
	largeOnce.Do(func() {
		n := largePacks
		if s := os.Getenv("MVUKE_BENCH_PACKS"); s != "" {
			n, largeErr = strconv.Atoi(s)
		}
		if largeErr == nil {
			largeDir, largeErr = os.MkdirTemp("", "mvuke-large-")
		}
		if largeErr == nil {
			began := time.Now()
			largeErr = demo.Large(largeDir, n, largeNow)
			b.Logf("made %d packs in %v", n, time.Since(began).Round(time.Second))
		}
	})
	if largeErr != nil {
		b.Fatal(largeErr)
	}
	b.Setenv("MVUKE_STATE", b.TempDir())
	d, err := work.Open(largeDir, work.Options{Clock: demo.NewClock(largeNow)})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { d.Close() })
	return d
}

func TestMain(m *testing.M) {
	code := m.Run()
	if largeDir != "" {
		os.RemoveAll(largeDir)
	}
	os.Exit(code)
}

// What a person waits for with the packs of years in the register. The baseline is a pack looked up by its whole number.
func BenchmarkLarge(b *testing.B) {
	d := large(b)
	run := func(name string, do func() error) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if err := do(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	find := func(text string) func() error {
		return func() error { _, err := d.Find(text, 60); return err }
	}
	shelf, err := d.OnShelf(60)
	if err != nil || len(shelf) == 0 {
		b.Fatal(len(shelf), err)
	}
	run("find-part-of-number", find("0417"))
	run("find-set", find("suture"))
	run("find-nothing", find("no such word"))
	run("find-number", func() error { _, err := d.ByNumber(shelf[0].Label); return err })
	run("pack", func() error { _, err := d.Pack(shelf[0].ID); return err })
	run("shelf", func() error { _, err := d.OnShelf(60); return err })
	run("today", func() error { _, err := d.Today(); return err })
}

// BenchmarkLargeFirstPaint builds a list and draws it by software in a window of 1024 by 600; the baseline draws a page that is there.
func BenchmarkLargeFirstPaint(b *testing.B) {
	d := large(b)
	test.NewTempApp(b)
	win := test.NewTempWindow(b, nil)
	s := New(d, win, Options{Language: "en", Quiet: true})
	win.Resize(fyne.NewSize(1024, 600))
	for _, place := range []string{screens.ToPacks, screens.ToCycles, screens.ToToday} {
		b.Run(place, func(b *testing.B) {
			for b.Loop() {
				s.Go(place, model.ID{})
				win.Canvas().Capture()
			}
		})
		b.Run(place+"-scroll", func(b *testing.B) {
			s.Go(place, model.ID{})
			for b.Loop() {
				test.Scroll(win.Canvas(), fyne.NewPos(600, 400), 0, -40)
				win.Canvas().Capture()
			}
		})
	}
	b.Run("Baseline", func(b *testing.B) {
		for b.Loop() {
			win.Canvas().Capture()
		}
	})
}
