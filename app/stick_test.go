package app

import (
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"mvuke/app/screens"
	"mvuke/app/widgets"
	"mvuke/model"
)

// A month of a clinic goes out onto a stick and comes in again, by taps: the screen says when the stick may be pulled, and of what came in that it was here already; a file
// pulled too early and one that is not ours are told apart.
func TestStickByTaps(t *testing.T) {
	s := open(t, "en", fyne.NewSize(1024, 600))
	dir := t.TempDir()
	shot := func(name string) {
		if to := os.Getenv("MVUKE_SHOTS"); to != "" {
			f, err := os.Create(filepath.Join(to, "stick-"+name+".png"))
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := png.Encode(f, s.win.Canvas().Capture()); err != nil {
				t.Fatal(err)
			}
		}
	}
	text := func() string { return words(s.win.Content()) }
	choose := func() {
		s.shell.Go(screens.ToStick, model.ID{})
		shot("choose")
		s.fill("Or the whole name of a folder", dir)
		s.tap("use this one")
		shot("at")
	}
	choose()
	s.tap("Take out")
	shot("safe")
	if files, err := filepath.Glob(filepath.Join(dir, "MV*.MVB")); err != nil || len(files) != 1 {
		t.Fatalf("%v %v", files, err)
	}
	if !strings.Contains(text(), "Take it out with the system's own way") {
		t.Errorf("not called safe: %s", text())
	}
	files, _ := filepath.Glob(filepath.Join(dir, "MV*.MVB"))
	whole, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string][]byte{"half.MVB": whole[:len(whole)/2], "letter.txt": []byte("dear sister")} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s.tap("OK")
	choose()
	s.tap("Bring in")
	shot("brought")
	var rows []string
	for _, x := range s.shown() {
		rows = append(rows, x.text())
	}
	all := strings.Join(rows, "\n")
	if !strings.Contains(all, "nothing has changed") || !strings.Contains(all, "nothing was taken; ask for it again") || strings.Contains(all, "letter") {
		t.Errorf("%s", all)
	}
}

// fill types into the field with a label.
func (s *stage) fill(label, value string) {
	s.t.Helper()
	for _, x := range s.shown() {
		if f, ok := x.o.(*widgets.Field); ok && x.text() == label {
			f.SetText(value)
			return
		}
	}
	s.t.Fatalf("no field %q", label)
}
