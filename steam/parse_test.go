package steam

import (
	"math"
	"os"
	"strings"
	"testing"
)

var numbers = []struct {
	in   string
	want float64
	bad  bool
}{
	{"17.5", 17.5, false}, {"17,5", 17.5, false}, {" 1 860 ", 1860, false}, {"1\u202f860,5", 1860.5, false},
	{"1'860", 1860, false}, {"-3", -3, false}, {"−3", -3, false}, {"+3", 3, false}, {".5", 0.5, false}, {"5.", 5, false},
	{"", 0, true}, {" ", 0, true}, {"12a", 0, true}, {"1.2.3", 0, true}, {"1,234.5", 0, true}, {"NaN", 0, true}, {"1e5", 0, true},
	{"0x10", 0, true}, {"--1", 0, true}, {"Inf", 0, true}, {"-", 0, true}, {".", 0, true}, {"1-2", 0, true},
}

func TestNumber(t *testing.T) {
	for _, c := range numbers {
		got, err := Number(c.in)
		if (err != nil) != c.bad || (!c.bad && got != c.want) {
			t.Errorf("Number(%q) = %v, %v", c.in, got, err)
		}
	}
}

func FuzzNumber(f *testing.F) {
	for _, c := range numbers {
		f.Add(c.in)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := Number(s)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%q gave %v", s, v)
		}
	})
}

func FuzzAltitude(f *testing.F) {
	for _, s := range []string{"1800m", "5906ft", "1800", "5906m", "1 800 m", "1,8 km", "-500m", "m", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, err := Altitude(s)
		if err != nil {
			return
		}
		if !(h >= lowestHeight && h <= HighestClinic) {
			t.Fatalf("%q gave %v m", s, h)
		}
		if !strings.ContainsAny(strings.ToLower(s), "mf") {
			t.Fatalf("%q was accepted without a unit", s)
		}
	})
}

func TestFuzzSeedsExist(t *testing.T) {
	for _, dir := range []string{"FuzzNumber", "FuzzAltitude"} {
		if d, err := os.ReadDir("testdata/fuzz/" + dir); err != nil || len(d) == 0 {
			t.Errorf("no seed corpus for %s: %v", dir, err)
		}
	}
}

// A clinic at 1800 m whose altitude is typed with the wrong unit (cases 7 and 8).
func TestCase007Case008AltitudeUnits(t *testing.T) {
	if h, err := Altitude("5906ft"); err != nil || math.Abs(float64(h)-1800) > 0.5 {
		t.Errorf("5906ft is %v, %v", h, err)
	}
	_, err := Altitude("5906m")
	if err == nil || !strings.Contains(err.Error(), "1800 m") || !strings.Contains(err.Error(), "ft") {
		t.Errorf("5906m must be refused and suggest feet: %v", err)
	}
	if h, err := Altitude("1,800m"); err == nil {
		t.Errorf("1,800m was read as %v m", h)
	}
	if h, err := Altitude("1 860,5 m"); err != nil || h != 1860.5 {
		t.Errorf("%v %v", h, err)
	}
	_, err = Altitude("1800")
	if err == nil || !strings.Contains(err.Error(), "5906 ft") || !strings.Contains(err.Error(), "549 m") {
		t.Errorf("a bare number must be refused with both readings: %v", err)
	}
	// 1800 ft taken for the site's height: the mark would be 110.1 kPa and the chamber 118.9 degC
	wrong, _ := Need(121, exactSite(1800*FeetToMetres))
	if math.Abs(wrong.KPa()-110.1) > 0.3 {
		t.Errorf("mark at 549 m %v", wrong.KPa())
	}
	at := tsat(Absolute(wrong) + exactSite(1800).Nominal)
	if math.Abs(float64(at)-118.9) > 0.1 {
		t.Errorf("true temperature %v", at)
	}
	for h, want := range map[Metres]float64{1800: 94.0, 549: 98.2} {
		if c, _ := BoilingPoint(h); math.Abs(float64(c)-want) > 0.1 {
			t.Errorf("water boils at %v at %v m, want %v", c, h, want)
		}
	}
	if _, h, err := FromBoiling(94.0); err != nil || math.Abs(float64(h)-1800) > 40 {
		t.Errorf("94.0 degC is %v m, %v", h, err)
	}
}
