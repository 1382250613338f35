package work

import "testing"

// Five hundred clinics whose names begin alike all find letters of their own.
func TestLettersForManyClinicsOfOneInitial(t *testing.T) {
	taken := map[string]bool{}
	for i := range 500 {
		code := firstFree("CLN", taken)
		if code == "" || taken[code] {
			t.Fatalf("clinic %d gets %q", i, code)
		}
		taken[code] = true
	}
}
