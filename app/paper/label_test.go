package paper

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/assets"
)

// someLabels are labels as they may come: with and without a note, as a copy, and with texts far too long.
func someLabels(w *assets.Words, n int) []Label {
	day := func(month time.Month, d int) string { return w.Day(time.Date(2026, month, d, 0, 0, 0, 0, time.UTC)) }
	long := strings.Repeat("Laparotomy and caesarean section, large, with retractors ", 3)
	kinds := []Label{
		{Set: "Delivery set", Packer: "Fatu Kamara", Wrapped: day(11, 24), Note: "5 of 6"},
		{Set: "Suture set, small", Packer: "Josué N’Dri", Wrapped: day(12, 2)},
		{Set: "Dressing set", Packer: "Aminata", Wrapped: day(9, 30), Note: "11 of 12 · without scissors", Copy: 2},
		{Set: long, Packer: long, Wrapped: day(9, 30), Note: long, Copy: 13},
		{Set: "Razor 🪒 and\nbowl", Packer: "Ōe", Wrapped: day(5, 1), Copy: 3},
		{},
	}
	var out []Label
	for i := range n {
		l := kinds[i%len(kinds)]
		l.Number = fmt.Sprintf("ND-A%04d", 401+i)
		l.Scan = l.Number + string(rune('A'+i%26))
		out = append(out, l)
	}
	return out
}

func labelPDF(t *testing.T, w *assets.Words, g Grid, from int, labels []Label) []byte {
	t.Helper()
	var a, b bytes.Buffer
	if err := Labels(&a, w, g, from, labels); err != nil {
		t.Fatalf("%s: %v", g.Name, err)
	}
	if err := Labels(&b, w, g, from, labels); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Fatalf("%s: two drawings differ (%v)", g.Name, err)
	}
	return a.Bytes()
}

func shot(name string, pdf []byte) {
	if dir := os.Getenv("MVUKE_SHOTS"); dir != "" {
		os.WriteFile(filepath.Join(dir, name+".pdf"), pdf, 0o600)
	}
}

func TestLabelsAreReadBackFromPaper(t *testing.T) {
	for _, g := range Grids {
		for _, lang := range assets.Languages() {
			for _, n := range []int{1, g.Places(), g.Places() + 1} {
				w := assets.For(lang)
				if lang != assets.Fallback && n != g.Places() {
					continue // the words change nothing about pages
				}
				labels := someLabels(w, n)
				pdf := labelPDF(t, w, g, 0, labels)
				shot(fmt.Sprintf("label-%s-%s-%d", g.Name, lang, n), pdf)
				pages := pictures(t, pdf)
				if want := (n + g.Places() - 1) / g.Places(); len(pages) != want {
					t.Fatalf("%s: %d labels on %d pages, want %d", g.Name, n, len(pages), want)
				}
				for i, l := range labels {
					cell := cut(pages[i/g.Places()], g, i%g.Places())
					if got := readBars(cell); got != l.Scan {
						t.Errorf("%s %s: bars of label %d read %q, want %q", g.Name, lang, i, got, l.Scan)
					}
					if got := readSquare(cell); g.roomy() && got != l.Scan {
						t.Errorf("%s %s: square code of label %d reads %q, want %q", g.Name, lang, i, got, l.Scan)
					}
				}
				for p, page := range pages {
					if ink := strayInk(page, g); ink > 0 {
						t.Errorf("%s %s page %d: %d dots outside the labels", g.Name, lang, p, ink)
					}
				}
			}
		}
	}
}

// Where bars would be too thin, there is a square code; where neither fits, nothing is printed.
func TestLabelOfALongScan(t *testing.T) {
	for _, g := range Grids {
		for n := 1; n <= longestScan; n += 13 {
			l := someLabels(assets.For("fr"), 3)[2:]
			l[0].Scan = strings.Repeat("K7-x 0042", 9)[:n]
			var b bytes.Buffer
			if err := Labels(&b, assets.For("fr"), g, 0, l); err != nil {
				var r *work.Refusal
				if !errors.As(err, &r) || r.Code != "label.refuse.small" || n < 40 || b.Len() > 0 {
					t.Errorf("%s, %d signs: %v", g.Name, n, err)
				}
				continue
			}
			cell := cut(pictures(t, b.Bytes())[0], g, 0)
			bars, square := readBars(cell), readSquare(cell)
			code, _ := encode("", l[0].Scan)
			if m := code.barModule(g.box(0).w); (m > 0) != (bars != "") || m > 0 && m < 0.25 {
				t.Errorf("%s, %d signs: module of %.3f mm, bars read %q", g.Name, n, m, bars)
			} else if thin, quiet := barWidths(cell, g); m > 0 && (thin < m-0.1 || quiet < 10*m-0.1) { // a dot has 0.085 mm
				t.Errorf("%s, %d signs: bars of %.3f mm with %.1f mm of quiet", g.Name, n, thin, quiet)
			}
			if bars == "" && square == "" || bars != "" && bars != l[0].Scan || square != "" && square != l[0].Scan {
				t.Errorf("%s, %d signs: read %q and %q, want %q", g.Name, n, bars, square, l[0].Scan)
			}
			shot(fmt.Sprintf("label-long-%s-%d", g.Name, n), b.Bytes())
		}
	}
}

func TestLabelsSayWhatTheyAre(t *testing.T) {
	for _, lang := range assets.Languages() {
		w := assets.For(lang)
		for _, g := range Grids {
			flat := strings.Join(strings.Fields(text(t, labelPDF(t, w, g, 0, someLabels(w, 6)))), " ")
			for _, must := range []string{"ND-A0401", "ND-A0406", "Delivery set", "Suture set, small", "Dressing set", "5 of 6",
				w.Say("label.wrapped", w.Day(time.Date(2026, 11, 24, 0, 0, 0, 0, time.UTC))), w.Say("label.packer", "Fatu Kamara"), w.Say("label.copy", "2"), "…"} {
				if !strings.Contains(flat, must) && !strings.Contains(strings.ReplaceAll(flat, " ", ""), strings.ReplaceAll(must, " ", "")) {
					t.Errorf("%s %s lacks %q: %s", g.Name, lang, must, flat)
				}
			}
			if strings.Contains(flat, "[") {
				t.Errorf("%s %s: a word is missing: %s", g.Name, lang, flat)
			}
			if word := ofRelease(w, flat); word != "" {
				t.Errorf("%s %s: an identity label says %q", g.Name, lang, word)
			}
			if !strings.Contains(g.Title(w), w.Number(g.W, 1)) {
				t.Errorf("%s is called %q", g.Name, g.Title(w))
			}
		}
	}
}

// A started sheet: places already taken stay white.
func TestLabelsBeginAtTheFirstFreePlace(t *testing.T) {
	for _, g := range Grids[:3] {
		from, labels := g.Places()-2, someLabels(assets.For("en"), 3)
		pages := pictures(t, labelPDF(t, assets.For("en"), g, from, labels))
		if len(pages) != 2 {
			t.Fatalf("%s: %d pages", g.Name, len(pages))
		}
		for i := range 2 * g.Places() {
			want := ""
			if i >= from && i < from+len(labels) {
				want = labels[i-from].Scan
			}
			cell := cut(pages[i/g.Places()], g, i%g.Places())
			if inked(cell) != (want != "") || want != "" && readBars(cell) != want {
				t.Errorf("%s: place %d does not hold %q", g.Name, i, want)
			}
		}
	}
}
