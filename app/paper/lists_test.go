package paper

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mvuke/assets"
	"mvuke/model"
)

// Set list and order list carry what they list, on one page or more, the same bytes each time.
func TestListsOnPaper(t *testing.T) {
	made := time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC)
	long := model.SetList{Name: "Long list"}
	for i := range 20 {
		long.Pieces = append(long.Pieces, model.Piece{Name: "piece number " + string(rune('A'+i)), Count: int64(i + 1), Essential: i%2 == 0})
	}
	long.Pieces[0].Name, long.Pieces[1].Name, long.Pieces[2].Name = "cord scissors", "artery forceps", "bowl"
	lines := []OrderLine{{What: "tape, packs' worth", Left: 3, PerMonth: 41.5, Order: 122}, {What: "lid seals", Left: 0, Order: 1}}
	for _, lang := range assets.Languages() {
		w := assets.For(lang)
		for _, size := range []Size{A4, A5} {
			var a, b, c bytes.Buffer
			if err := SetList(&a, w, size, long, made); err != nil {
				t.Fatal(err)
			}
			if err := SetList(&b, w, size, long, made); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("two drawings differ (%v)", err)
			}
			if err := OrderList(&c, w, size, "Ndovari", lines, 90, made); err != nil {
				t.Fatal(err)
			}
			if dir := os.Getenv("MVUKE_SHOTS"); dir != "" {
				os.WriteFile(filepath.Join(dir, "set-list-"+string(size)+"-"+lang+".pdf"), a.Bytes(), 0o600)
				os.WriteFile(filepath.Join(dir, "order-list-"+string(size)+"-"+lang+".pdf"), c.Bytes(), 0o600)
			}
			set, order := text(t, a.Bytes()), text(t, c.Bytes())
			for _, p := range long.Pieces {
				if !strings.Contains(set, p.Name) {
					t.Errorf("%s %s lacks %s", lang, size, p.Name)
				}
			}
			if strings.Count(set, "\f") != 2 || !strings.Contains(order, "122") || !strings.Contains(order, "Ndovari") || strings.Contains(set+order, "[") {
				t.Errorf("%s %s: %d pages, %s", lang, size, strings.Count(set, "\f"), order)
			}
		}
	}
}
