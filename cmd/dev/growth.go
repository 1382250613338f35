package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// How what an office waits for grows with the size of its register.

// districts are the sizes that take an hour to build: 10^6 and 10^7 entries. They are kept beside the numbers, and measured again without being built.
const districts = "45x480x4,500x440x5"

// runDistricts measures the large districts once each.
func runDistricts(ctx context.Context, dir string) ([]benchmark, error) {
	kept, err := filepath.Abs(filepath.Join(dir, "districts"))
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(kept, 0o755); err != nil {
		return nil, fmt.Errorf("no folder for the large districts; name another with --out: %w", err)
	}
	say("measuring districts of a million and of ten million entries; the first time they are built, which takes an hour")
	defer watch("measuring")()
	args := goArgs("test", "-run", "^$", "-bench", "^BenchmarkDistrict$", "-benchtime", "3x", "-timeout", "10h", "./app")
	out, err := output(ctx, []string{cgo(false), "MVUKE_DISTRICT=" + districts, "MVUKE_DISTRICT_DIR=" + kept}, "go", args...)
	if err != nil {
		return nil, fmt.Errorf("a large district could not be measured: %w\n%s", err, out)
	}
	return parseBench(out, procs()), nil
}

// A sized is what one wait took on a register of a size.
type sized struct {
	what    string
	entries float64
	ns      float64
}

var sizedName = regexp.MustCompile(`^District/(\w+)/\d+clinics(\d+)entries$`)

// growth picks the waits of offices out of a list, by what is waited for and by size.
func growth(list []benchmark) (out []sized) {
	for _, b := range list {
		m := sizedName.FindStringSubmatch(b.Name)
		if m == nil || b.NsPerOp <= 0 {
			continue
		}
		n, err := strconv.ParseFloat(m[2], 64)
		if err == nil && n > 0 {
			out = append(out, sized{m[1], n, b.NsPerOp})
		}
	}
	slices.SortFunc(out, func(a, b sized) int { return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.entries, b.entries)) })
	return out
}

// The plot's frame: a millisecond to a hundred seconds, ten thousand entries to ten million, both by powers of ten.
const (
	lowNs, decadesNs, rowsADecade = 6, 5, 4
	lowN, decadesN, columnsADec   = 4, 3, 22
)

// plotGrowth draws both on logarithmic scales: a wait that grows as the register does rises as a diagonal does, one that does not stays level.
func plotGrowth(list []sized) []string {
	if len(list) == 0 {
		return nil
	}
	high, wide := decadesNs*rowsADecade, decadesN*columnsADec+8
	cells := make([][]rune, high+1)
	for i := range cells {
		cells[i] = []rune(strings.Repeat(" ", wide))
	}
	for _, x := range list {
		col := int(math.Round((math.Log10(x.entries) - lowN) * columnsADec))
		row := high - int(math.Round((math.Log10(x.ns)-lowNs)*rowsADecade))
		col, row = min(max(col, 0), wide-1), min(max(row, 0), high)
		for col < wide-1 && cells[row][col] != ' ' { // two at one place stand side by side
			col++
		}
		cells[row][col] = rune(x.what[0])
	}
	units := []string{"1 ms", "10 ms", "100 ms", "1 s", "10 s", "100 s"}
	var out []string
	for i, row := range cells {
		label := ""
		if (high-i)%rowsADecade == 0 {
			label = units[(high-i)/rowsADecade]
		}
		out = append(out, fmt.Sprintf("%7s |%s", label, strings.TrimRight(string(row), " ")))
	}
	foot := "        +"
	names := "         "
	for d := range decadesN + 1 {
		foot += "+" + strings.Repeat("-", columnsADec-1)
		names += fmt.Sprintf("%-*s", columnsADec, "10^"+strconv.Itoa(lowN+d))
	}
	return append(out, foot, names+"entries")
}

// exponents say between its smallest and largest size how each wait grows: 0 not at all, 1 as the register does, 2 with its square.
func exponents(list []sized) (out []string) {
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].what == list[i].what {
			j++
		}
		first, last := list[i], list[j-1]
		if last.entries > first.entries {
			out = append(out, fmt.Sprintf("%s %-14s %9.3f s at %.0f entries; grows with the size to the power of %.2f", first.what[:1], first.what, last.ns/1e9, last.entries,
				math.Log(last.ns/first.ns)/math.Log(last.entries/first.entries)))
		}
		i = j
	}
	return out
}
