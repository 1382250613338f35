package tables

import (
	"errors"
	"os"
	"strings"
	"testing"
)

const good = "minute,gauge,lowest,event\n0,0,,vent-start\n10,0,,vent-end\n15,124\n20,\"124,5\",124\n25,124,123,fire-low+away\n50,0,,zero+open\n"

func TestReadLog(t *testing.T) {
	l, err := ReadLog(strings.NewReader(good), 250)
	if err != nil || len(l.Readings) != 6 || len(l.Steps) != 5 {
		t.Fatalf("%+v %v", l, err)
	}
	if !l.Readings[4].Away {
		t.Error("who looked away swears to nothing, whatever lowest stands on the line")
	}
	if l.Readings[3].NeedleMilli != 124500 || l.Readings[3].LowestMilli != 124000 {
		t.Errorf("%+v", l.Readings[3])
	}
}

func TestBadLinesSayWhereAndWhat(t *testing.T) {
	for name, c := range map[string]struct {
		log  string
		line int
		says string
	}{
		"empty":           {"", 1, "columns"},
		"no gauge column": {"minute,needle\n", 1, "not known"},
		"column missing":  {"minute,event\n", 1, "missing"},
		"twice":           {"minute,gauge,gauge\n", 1, "twice"},
		"backwards":       {"minute,gauge\n5,1\n4,1\n", 3, "backwards"},
		"over span":       {"minute,gauge\n0,0\n5,300\n", 3, "dial"},
		"not a number":    {"minute,gauge\n0,abc\n", 2, "number"},
		"event":           {"minute,gauge,event\n0,0,boom\n", 2, "not known"},
		"lowest above":    {"minute,gauge,lowest\n0,100,110\n", 2, "above"},
		"nothing":         {"minute,gauge\n0,\n", 2, "no gauge"},
		"no rows":         {"minute,gauge\n", 1, "no readings"},
		"thermometer":     {"minute,gauge,thermometer\n0,100,250\n", 2, "Celsius"},
	} {
		_, err := ReadLog(strings.NewReader(c.log), 250)
		var bad *BadLine
		if !errors.As(err, &bad) || bad.Line != c.line || !strings.Contains(bad.What, c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzReadLog(f *testing.F) {
	f.Add(good)
	f.Add("minute,gauge\n0,1e5\n")
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ReadLog(strings.NewReader(s), 250)
		if err != nil {
			return
		}
		for i, r := range l.Readings {
			if r.NeedleMilli > 250_000 || (i > 0 && r.At < l.Readings[i-1].At) {
				t.Fatalf("%q gave %+v", s, l)
			}
		}
	})
}

func TestFuzzSeedsExist(t *testing.T) {
	if d, err := os.ReadDir("testdata/fuzz/FuzzReadLog"); err != nil || len(d) == 0 {
		t.Errorf("no seed corpus: %v", err)
	}
}
