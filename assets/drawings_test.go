package assets

import "testing"

// Every piece of the starter lists has a drawing of its own in every language, and the longer word wins.
func TestPiecesHaveDrawings(t *testing.T) {
	for name, want := range map[string]string{"cord scissors": "scissors", "2 artery forceps": "forceps", "Dissecting forceps": "tweezers", "towel clips": "towel-clip",
		"towels": "towel", "needle holder": "needle-holder", "sponge forceps": "sponge-forceps", "spoon": "piece"} {
		if got, d := For("en").Picture(name); got != want || len(d) == 0 {
			t.Errorf("%s: %s, %d lines", name, got, len(d))
		}
	}
	if got, _ := For("fr").Picture("cord scissors"); got != "scissors" {
		t.Errorf("an English list on a French screen: %s", got)
	}
	if got, _ := For("fr").Picture("pince à disséquer"); got != "tweezers" {
		t.Error(got)
	}
	for _, c := range Drawings() {
		for _, l := range drawings[c] {
			for _, q := range l {
				if q[0] < 0 || q[0] > 100 || q[1] < 0 || q[1] > 100 {
					t.Errorf("%s leaves its square: %v", c, q)
				}
			}
		}
	}
	for _, bad := range []string{"<svg", "<svg></svg>", `<svg><polyline points="1;2"/></svg>`} {
		if _, err := readDrawing([]byte(bad)); err == nil {
			t.Errorf("%q was taken for a drawing", bad)
		}
	}
}
