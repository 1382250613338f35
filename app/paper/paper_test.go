package paper

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

func demoCycle(t *testing.T) (Card, func(*assets.Words) Told) {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	clk := demo.NewClock(time.Date(2026, 12, 1, 7, 0, 0, 0, time.UTC))
	d, err := work.Open(t.TempDir(), work.Options{Clock: clk})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	if err := d.SetUp(demo.Answers("en")); err != nil {
		t.Fatal(err)
	}
	id, err := demo.Cycle(d, clk, demo.Burn{Packs: 5, First: 401, Strip: true})
	if err != nil {
		t.Fatal(err)
	}
	p, _ := d.Place()
	c, _ := d.Cycle(id)
	card, planned, err := d.MakeCard(p.Pots[0], p.Site, model.Wrapped)
	if err != nil {
		t.Fatal(err)
	}
	return Card{Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Number: card.Number, Item: model.Wrapped, Plan: planned.Frozen,
			Allow: planned.Plan.Allowances, Made: clk.Wall, Void: time.UnixMilli(card.VoidAfter), AskMinutes: 5},
		func(w *assets.Words) Told {
			told, err := Tell(d, c, w)
			if err != nil {
				t.Fatal(err)
			}
			return told
		}
}

func sheets(c Card, tell func(*assets.Words) Told) map[string]func(*bytes.Buffer, *assets.Words, Size) error {
	return map[string]func(*bytes.Buffer, *assets.Words, Size) error{
		"card":  func(b *bytes.Buffer, w *assets.Words, s Size) error { return WallCard(b, w, s, c) },
		"slip":  func(b *bytes.Buffer, w *assets.Words, s Size) error { return Slip(b, w, s, c) },
		"log":   func(b *bytes.Buffer, w *assets.Words, s Size) error { return LogSheet(b, w, s, c) },
		"cycle": func(b *bytes.Buffer, w *assets.Words, s Size) error { return CycleSheet(b, w, s, tell(w)) },
	}
}

// text asks pdftotext what stands on a sheet.
func text(t *testing.T, pdf []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "s.pdf")
	if err := os.WriteFile(path, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Skipf("pdftotext (poppler-utils) is not installed: %v", err)
	}
	return string(out)
}

func TestSheetsCarryFiguresAndCautions(t *testing.T) {
	c, tell := demoCycle(t)
	for _, lang := range assets.Languages() {
		w := assets.For(lang)
		for name, draw := range sheets(c, tell) {
			for _, size := range []Size{A4, A5} {
				var a, b bytes.Buffer
				if err := draw(&a, w, size); err != nil {
					t.Fatal(err)
				}
				if err := draw(&b, w, size); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
					t.Errorf("%s %s %s: two drawings differ (%v)", name, size, lang, err)
				}
				if dir := os.Getenv("MVUKE_SHOTS"); dir != "" {
					os.WriteFile(filepath.Join(dir, name+"-"+string(size)+"-"+lang+".pdf"), a.Bytes(), 0o600)
				}
				flat := strings.Join(strings.Fields(text(t, a.Bytes())), " ")
				for _, must := range []string{"140", "125", "170", first(w.Say("caution.line")), first(w.Say("caution.open"))} {
					if !strings.Contains(flat, must) {
						t.Errorf("%s %s %s lacks %q", name, size, lang, must)
					}
				}
				if name == "cycle" && !strings.Contains(flat, " ("+w.Say("usable.not-released")) {
					t.Errorf("the sheet does not say what may be done with each pack: %s", flat)
				}
				if strings.Contains(flat, "[") {
					t.Errorf("%s %s: a word is missing: %s", name, lang, flat[strings.Index(flat, "["):])
				}
			}
		}
	}
}

func first(s string) string { return strings.Join(strings.Fields(s)[:4], " ") }
