package main

import (
	"os/exec"
	"strings"
	"testing"
)

const benchOutput = `goos: linux
pkg: mvuke/a
BenchmarkSum-2        	100	 30.0 ns/op	 16 B/op	 1 allocs/op
BenchmarkSum-2        	100	 10.0 ns/op	 16 B/op	 1 allocs/op
BenchmarkSum-2        	100	 20.0 ns/op	 16 B/op	 1 allocs/op
BenchmarkSumBaseline-2	100	 5.0 ns/op	 0 B/op	 0 allocs/op
BenchmarkBy/size-64-2 	100	 8.0 ns/op	 3.5 acts/s	 0 B/op	 0 allocs/op
BenchmarkBy/size-8-2  	100	 6.0 ns/op	 0 B/op	 0 allocs/op
BenchmarkByBaseline/size-64-2	100	 2.0 ns/op	 0 B/op	 0 allocs/op
BenchmarkLone
BenchmarkLone-2       	not a result at all
PASS
ok  	mvuke/a	1.0s
pkg: mvuke/b
BenchmarkSumBaseline-2	100	 7.0 ns/op	 0 B/op	 0 allocs/op
BenchmarkOther-2      	100	 9.0 ns/op	 0 B/op	 0 allocs/op
`

func TestBenchPairs(t *testing.T) {
	list := pair(parseBench(benchOutput, 2))
	got := map[string]benchmark{}
	for _, b := range list {
		got[b.Package+" "+b.Name] = b
	}
	if len(got) != 7 || len(list) != 7 {
		t.Fatalf("%d benchmarks, want 7: %+v", len(list), list)
	}
	for name, want := range map[string][3]float64{ // ns/op, baseline, ratio
		"mvuke/a Sum":                {20, 5, 4}, // the middle of three runs
		"mvuke/a SumBaseline":        {5, 0, 0},
		"mvuke/a By/size-64":         {8, 2, 4},
		"mvuke/a By/size-8":          {6, 0, 0}, // has none of its own
		"mvuke/a ByBaseline/size-64": {2, 0, 0},
		"mvuke/b Other":              {9, 0, 0},
	} {
		b := got[name]
		if [3]float64{b.NsPerOp, b.BaselineNs, b.Ratio} != want {
			t.Errorf("%s: %+v, want %v", name, b, want)
		}
	}
	if b := got["mvuke/a Sum"]; b.BytesPerOp != 16 || b.AllocsPerOp != 1 {
		t.Errorf("memory of Sum: %+v", b)
	}
}

// With one thread go test adds no number, and what looks like one is a name.
func TestBenchNamesWithOneThread(t *testing.T) {
	list := parseBench("pkg: m\nBenchmarkRow/size-1 10 4 ns/op\n", 1)
	if len(list) != 1 || list[0].Name != "Row/size-1" {
		t.Errorf("%+v", list)
	}
}

func TestMedian(t *testing.T) {
	for want, v := range map[float64][]float64{0: nil, 2: {9, 1, 2}, 2.5: {4, 1, 2, 3}} {
		if got := median(v); got != want {
			t.Errorf("median of %v is %v, want %v", v, got, want)
		}
	}
}

func TestParseStart(t *testing.T) {
	v, err := parseStart("hello\n{not json\n{\"firstFrameMs\":120,\"rssKB\":5000,\"idleCPUPercent\":0.5}\n")
	if err != nil || v != (startup{120, 5000, 0.5}) {
		t.Errorf("%+v, %v", v, err)
	}
	for _, out := range []string{"", "{}\n", "flag provided but not defined\n"} {
		if _, err := parseStart(out); err == nil || !strings.Contains(err.Error(), "--report") {
			t.Errorf("%q: %v", out, err)
		}
	}
}

// Two screens at once, as two runs on one machine, have different numbers.
func TestScreensAreApart(t *testing.T) {
	if _, err := exec.LookPath("Xvfb"); err != nil {
		t.Skip(errNoXvfb)
	}
	a, err := openScreen(t.Context(), "1024x600")
	if err != nil {
		t.Fatal(err)
	}
	defer a.close()
	b, err := openScreen(t.Context(), "1366x768")
	if err != nil {
		t.Fatal(err)
	}
	defer b.close()
	if a.display == b.display {
		t.Errorf("both are %s", a.display)
	}
}
