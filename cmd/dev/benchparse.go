package main

import (
	"slices"
	"strconv"
	"strings"
)

// A benchmark is the middle of its runs, beside its baseline if it has one.
type benchmark struct {
	Package, Name                    string
	NsPerOp, BytesPerOp, AllocsPerOp float64
	BaselineNs                       float64 `json:",omitempty"`
	Ratio                            float64 `json:",omitempty"` // NsPerOp to BaselineNs
}

// parseBench reads what go test -bench -benchmem printed, with procs threads.
func parseBench(out string, procs int) []benchmark {
	var list []benchmark
	runs := map[[2]string][][3]float64{}
	pkg := ""
	for line := range strings.Lines(out) {
		if p, ok := strings.CutPrefix(line, "pkg: "); ok {
			pkg = strings.TrimSpace(p)
			continue
		}
		f := strings.Fields(line)
		if len(f) < 4 || !strings.HasPrefix(f[0], "Benchmark") {
			continue
		}
		values, ok := benchValues(f[2:])
		if !ok {
			continue
		}
		// Only the number of threads is cut off: a name may end in a number too.
		name := strings.TrimPrefix(f[0], "Benchmark")
		if procs > 1 {
			name = strings.TrimSuffix(name, "-"+strconv.Itoa(procs))
		}
		key := [2]string{pkg, name}
		if runs[key] == nil {
			list = append(list, benchmark{Package: pkg, Name: name})
		}
		runs[key] = append(runs[key], values)
	}
	for i := range list {
		b := &list[i]
		r := runs[[2]string{b.Package, b.Name}]
		for k, to := range []*float64{&b.NsPerOp, &b.BytesPerOp, &b.AllocsPerOp} {
			var column []float64
			for _, v := range r {
				column = append(column, v[k])
			}
			*to = median(column)
		}
	}
	return list
}

// benchValues reads pairs of a number and its unit. Units of a benchmark's own
// are left out; without a time the line is not a result.
func benchValues(f []string) (v [3]float64, ok bool) {
	for i := 0; i+1 < len(f); i += 2 {
		n, err := strconv.ParseFloat(f[i], 64)
		if err != nil {
			return v, false
		}
		switch f[i+1] {
		case "ns/op":
			v[0], ok = n, true
		case "B/op":
			v[1] = n
		case "allocs/op":
			v[2] = n
		}
	}
	return v, ok
}

// pair sets each benchmark beside the one of its package that has the same
// name with Baseline after it, sub-benchmark for sub-benchmark. A baseline
// that serves all sub-benchmarks has none itself. Baselines keep a line of
// their own, for a ratio hides which of the two has changed.
func pair(list []benchmark) []benchmark {
	const suffix = "Baseline"
	ns := map[[2]string]float64{}
	for _, b := range list {
		ns[[2]string{b.Package, b.Name}] = b.NsPerOp
	}
	out := slices.Clone(list)
	for i := range out {
		b := &out[i]
		top, sub, isSub := strings.Cut(b.Name, "/")
		base := ns[[2]string{b.Package, top + suffix}]
		if isSub {
			if own, ok := ns[[2]string{b.Package, top + suffix + "/" + sub}]; ok {
				base = own
			}
		}
		if base > 0 {
			b.BaselineNs, b.Ratio = base, b.NsPerOp/base
		}
	}
	return out
}

// median is 0 of nothing.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}
