package main

import (
	"strings"
	"testing"
)

func TestGrowth(t *testing.T) {
	list := growth(parseBench(`pkg: mvuke/app
BenchmarkDistrict/Office/4clinics10000entries-2 3 10000000 ns/op
BenchmarkDistrict/Office/40clinics1000000entries-2 3 1000000000 ns/op
BenchmarkDistrict/Trace/4clinics10000entries-2 3 50000000 ns/op
BenchmarkDistrict/Trace/40clinics1000000entries-2 3 50000000 ns/op
BenchmarkOther-2 3 1 ns/op
`, 2))
	if len(list) != 4 || list[0] != (sized{"Office", 1e4, 1e7}) {
		t.Fatalf("%+v", list)
	}
	says := exponents(list)
	if len(says) != 2 || !strings.HasSuffix(says[0], "power of 1.00") || !strings.HasSuffix(says[1], "power of 0.00") || !strings.Contains(says[0], "1.000 s at 1000000") {
		t.Errorf("%q", says)
	}
	plot := plotGrowth(list)
	at := func(label string) string {
		for _, line := range plot {
			if cells, ok := strings.CutPrefix(line, label+" |"); ok {
				return cells
			}
		}
		return "no line " + label
	}
	gap := strings.Repeat(" ", 2*columnsADec-1)
	if at("  10 ms") != "O" || at("    1 s") != strings.Repeat(" ", 2*columnsADec)+"O" || !strings.Contains(strings.Join(plot, "\n"), "|T"+gap+"T\n") {
		t.Error(strings.Join(plot, "\n"))
	}
	if plotGrowth(nil) != nil {
		t.Error("nothing is plotted")
	}
}
