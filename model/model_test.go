package model

import (
	"testing"
	"time"
)

// The worked example of ISO/IEC 7064 MOD 37,36 in public use: the Global Release Identifier
// "A12425GABC1234002" has the check character M (open standard, read in a secondary page; from memory).
func TestCheckLetter(t *testing.T) {
	if got := CheckLetter("A1-2425G-ABC1234002"); got != "M" {
		t.Errorf("got %s", got)
	}
	base := "NDA0401L12"
	want := CheckLetter(base)
	for i := range base {
		for _, r := range checkAlphabet[:36] {
			if other := base[:i] + string(r) + base[i+1:]; other != base && CheckLetter(other) == want {
				t.Fatalf("%s and %s have one check letter", base, other)
			}
		}
	}
}

func TestSinceProvesOnlyWhatBothClocksSay(t *testing.T) {
	a := Moment{Wall: time.Unix(1000, 0), Boot: ID{1}, Elapsed: time.Minute}
	for name, c := range map[string]struct {
		b      Moment
		want   time.Duration
		proven bool
	}{
		"both agree":                  {Moment{time.Unix(1060, 0), ID{1}, 2 * time.Minute}, time.Minute, true},
		"wall stepped forward":        {Moment{time.Unix(9000, 0), ID{1}, 2 * time.Minute}, time.Minute, false},
		"wall stepped a little back":  {Moment{time.Unix(1030, 0), ID{1}, 2 * time.Minute}, time.Minute, true},
		"wall reset to 1970":          {Moment{time.Unix(0, 0), ID{1}, 2 * time.Minute}, time.Minute, false},
		"restarted":                   {Moment{time.Unix(1060, 0), ID{2}, time.Second}, time.Minute, false},
		"restarted with a wall reset": {Moment{time.Unix(0, 0), ID{2}, time.Second}, 0, false},
	} {
		if got, proven := Since(a, c.b); got != c.want || proven != c.proven {
			t.Errorf("%s: %v %v", name, got, proven)
		}
	}
}

func TestDoubt(t *testing.T) {
	built, newest := time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC), time.Date(2027, 3, 14, 0, 0, 0, 0, time.UTC)
	for wall, want := range map[time.Time]bool{
		time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC): true, time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC): true,
		newest.Add(-4 * time.Minute): false, newest.Add(-6 * time.Minute): true, newest: false,
		newest.Add(89 * 24 * time.Hour): false, newest.Add(91 * 24 * time.Hour): true, time.Date(2099, 1, 1, 0, 0, 0, 0, time.UTC): true,
	} {
		if Doubt(wall, built, newest) != want {
			t.Errorf("%v: %v", wall, !want)
		}
	}
	if Doubt(newest, built, time.Time{}) {
		t.Error("a first start is in doubt")
	}
}
