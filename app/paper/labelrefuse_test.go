package paper

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"strings"
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/assets"
)

// ofRelease finds a word that only a release may say.
func ofRelease(w *assets.Words, flat string) string {
	flat = strings.ToLower(flat)
	for _, key := range []string{"label.mark.load", "label.mark.sterilized", "label.mark.last", "label.mark.check", "state.released"} {
		if word := strings.ToLower(strings.TrimSpace(w.Say(key, ""))); strings.Contains(flat, word) {
			return word
		}
	}
	return ""
}

func someMark(w *assets.Words) ReleaseMark {
	day := func(m time.Month) string { return w.Day(time.Date(2026, m, 24, 0, 0, 0, 0, time.UTC)) }
	return ReleaseMark{Number: "ND-A0401", Load: "17", Sterilized: day(11), LastDay: day(12), Check: "M"}
}

func TestLabelOfARelease(t *testing.T) {
	for _, lang := range assets.Languages() {
		w := assets.For(lang)
		notes := map[string]string{"en": "not known, released by name", "fr": "indéterminé, libéré sous un nom"}
		for _, g := range Grids {
			marks := []ReleaseMark{someMark(w), someMark(w), someMark(w)}
			marks[1].Note = notes[lang]
			marks[2].Note = strings.Repeat(notes[lang]+", ", 5)
			for i := 0; len(marks) <= g.Places(); i++ {
				marks = append(marks, marks[i%3])
			}
			var a, b bytes.Buffer
			if err := ReleaseMarks(&a, w, g, 0, marks); err != nil {
				t.Fatal(err)
			}
			if err := ReleaseMarks(&b, w, g, 0, marks); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s: two drawings differ (%v)", g.Name, err)
			}
			shot("mark-"+g.Name+"-"+lang, a.Bytes())
			flat := strings.Join(strings.Fields(text(t, a.Bytes())), " ")
			for _, must := range []string{"ND-A0401", w.Say("label.mark.load", "17"), w.Say("label.mark.sterilized", marks[0].Sterilized),
				w.Say("label.mark.last", marks[0].LastDay), w.Say("label.mark.check", "M"), notes[lang]} {
				if !strings.Contains(flat, must) {
					t.Errorf("%s %s lacks %q: %s", g.Name, lang, must, flat)
				}
			}
			if ofRelease(w, flat) == "" { // the known-bad twin of TestLabelsSayWhatTheyAre
				t.Errorf("%s %s: words of a release are not found where they stand", g.Name, lang)
			}
			for p, page := range pictures(t, a.Bytes()) {
				if ink := strayInk(page, g); ink > 0 {
					t.Errorf("%s %s page %d: %d dots outside the marks", g.Name, lang, p, ink)
				}
			}
		}
	}
}

func TestLabelsAreRefusedInWords(t *testing.T) {
	en := assets.For("en")
	with := func(change func(*Label)) []Label {
		l := someLabels(en, 2)
		change(&l[1])
		return l
	}
	g := Grids[2]
	tiny := g
	tiny.H = 16
	for name, c := range map[string]struct {
		grid   Grid
		from   int
		labels []Label
		code   string
	}{
		"before the sheet":  {g, -1, someLabels(en, 1), "label.refuse.from"},
		"behind the sheet":  {g, 40, someLabels(en, 1), "label.refuse.from"},
		"none":              {g, 0, nil, "label.refuse.none"},
		"accent":            {g, 0, with(func(l *Label) { l.Scan = "É-0401" }), "label.refuse.scan"},
		"a sign of its own": {g, 0, with(func(l *Label) { l.Scan = "ND\u00f10401" }), "label.refuse.scan"},
		"control":           {g, 0, with(func(l *Label) { l.Scan = "ND\t0401" }), "label.refuse.scan"},
		"not text":          {g, 0, with(func(l *Label) { l.Scan = "ND\xff0401" }), "label.refuse.scan"},
		"empty":             {g, 0, with(func(l *Label) { l.Scan = "" }), "label.refuse.scan"},
		"too long to scan":  {g, 0, with(func(l *Label) { l.Scan = strings.Repeat("7", 81) }), "label.refuse.scan"},
		"too long to read":  {g, 0, with(func(l *Label) { l.Number = strings.Repeat("ND-A0401", 4) }), "label.refuse.small"},
		"no number":         {g, 0, with(func(l *Label) { l.Number = "" }), "label.refuse.small"},
		"labels of nothing": {tiny, 0, someLabels(en, 1), "label.refuse.small"},
	} {
		var b bytes.Buffer
		refused(t, name, Labels(&b, en, c.grid, c.from, c.labels), c.code)
		if b.Len() > 0 {
			t.Errorf("%s: a sheet was written", name)
		}
	}
	for i := range 5 {
		m := someMark(en)
		*[]*string{&m.Number, &m.Load, &m.Sterilized, &m.LastDay, &m.Check}[i] = " "
		refused(t, "gap", ReleaseMarks(&bytes.Buffer{}, en, g, 0, []ReleaseMark{someMark(en), m}), "label.refuse.mark")
	}
}

func refused(t *testing.T, name string, err error, code string) {
	t.Helper()
	var r *work.Refusal
	if !errors.As(err, &r) || r.Code != code {
		t.Errorf("%s: %v, want %s", name, err, code)
		return
	}
	for _, lang := range assets.Languages() {
		if said := assets.For(lang).Say(r.Code, r.Args...); strings.ContainsAny(said, "{[") {
			t.Errorf("%s: %s", name, said)
		}
	}
}

// A check that cannot fail is none: ink in a gap, and a text not shortened, are found.
func TestLabelInkOutsideIsFound(t *testing.T) {
	for _, g := range Grids {
		page := image.NewGray(image.Rect(0, 0, int(g.PageW*perMM), int(g.PageH*perMM)))
		for i := range page.Pix {
			page.Pix[i] = 255
		}
		if n := strayInk(page, g); n != 0 {
			t.Errorf("%s: %d dots on a white page", g.Name, n)
		}
		x, y := g.corner(g.Places() - 1)
		page.SetGray(int((x+0.5)*perMM), int((y+5)*perMM), color.Gray{})
		if strayInk(page, g) != 1 {
			t.Errorf("%s: a dot beside a label is not found", g.Name)
		}
	}
	g := Grids[2]
	var b bytes.Buffer
	err := g.lay(&b, assets.For("en"), "", 0, 1, func(s *sheet, b box, _ int) error {
		s.text(b.x, b.y+5, 8, false, black, 0, strings.Repeat("Laparotomy ", 6))
		return nil
	})
	if err != nil || strayInk(pictures(t, b.Bytes())[0], g) == 0 {
		t.Errorf("a text that runs into the next label is not found (%v)", err)
	}
}
