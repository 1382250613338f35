package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// benchPackages are what a person waits for: a table value, a judgement, an
// entry that is kept, a pot that is learnt, a beat of the practice pot.
var benchPackages = []string{"./steam", "./steam/lethality", "./steam/pot", "./model/assess", "./model/store", "./app"}

// A benchReport is what bench writes. It holds no time and no name of the
// machine, so that two of them differ only where the numbers do.
type benchReport struct {
	Go, System string
	CPUs       int
	Benchmarks []benchmark
	Window     windowReport
}

func bench(ctx context.Context, args []string) error {
	fs := flag.NewFlagSet("bench", flag.ContinueOnError)
	file := fs.String("out", "out/bench.json", "the file for the numbers")
	large := fs.Bool("district", false, "measure districts of a million and of ten million entries too; building them takes an hour")
	if err := parse(fs, args); err != nil {
		return err
	}
	// A bad place for the file is said now, not after all the measuring.
	if err := os.MkdirAll(filepath.Dir(*file), 0o755); err != nil {
		return fmt.Errorf("no folder for the numbers; name another with --out: %w", err)
	}
	report := benchReport{Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH, CPUs: runtime.NumCPU()}
	var err error
	if report.Benchmarks, err = runBenchmarks(ctx); err != nil {
		return err
	}
	if *large {
		more, err := runDistricts(ctx, filepath.Dir(*file))
		if err != nil {
			return err
		}
		report.Benchmarks = append(report.Benchmarks, more...)
	}
	benchTable(report.Benchmarks)
	grown := growth(report.Benchmarks)
	for _, line := range append(plotGrowth(grown), exponents(grown)...) {
		say("%s", line)
	}
	if report.Window, err = benchWindow(ctx); err != nil {
		return err
	}
	windowTable(report.Window)

	data, err := json.MarshalIndent(report, "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(*file, append(data, '\n'), 0o644); err != nil {
		return fmt.Errorf("the numbers were not saved; name another file with --out: %w", err)
	}
	say("\nThe numbers are in %s", *file)
	return nil
}

// runBenchmarks runs each three times and takes the middle one, since a
// single run on a busy computer says little.
func runBenchmarks(ctx context.Context) ([]benchmark, error) {
	say("measuring the parts without a window; some minutes")
	defer watch("measuring")()
	args := goArgs("test", append([]string{"-run", "^$", "-bench", ".", "-benchmem", "-count", "3", "-timeout", "30m"}, benchPackages...)...)
	out, err := output(ctx, []string{cgo(false)}, "go", args...)
	if err != nil {
		return nil, fmt.Errorf("a benchmark failed: %w\n%s", err, out)
	}
	return pair(parseBench(out, procs())), nil
}

// procs is the number of threads that go test adds to a name.
func procs() int { return runtime.GOMAXPROCS(0) }

func benchTable(list []benchmark) {
	say("\n%-50s %12s %8s %8s %12s %7s", "benchmark", "ns/op", "B/op", "allocs", "baseline", "ratio")
	for _, b := range list {
		base, ratio := "", ""
		if b.BaselineNs > 0 {
			base, ratio = fmt.Sprintf("%.1f", b.BaselineNs), fmt.Sprintf("%.2f", b.Ratio)
		}
		name := strings.TrimPrefix(b.Package, "mvuke/") + " " + b.Name
		say("%-50s %12.1f %8.0f %8.0f %12s %7s", name, b.NsPerOp, b.BytesPerOp, b.AllocsPerOp, base, ratio)
	}
	if len(list) == 0 {
		say("(none)")
	}
}
