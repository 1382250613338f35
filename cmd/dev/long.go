package main

import (
	"context"
	"fmt"
	"runtime"
	"strings"
)

// longEnv asks tests for their long form.
const longEnv = "MVUKE_LONG=compare"

// A target is one fuzz function.
type target struct{ pkg, name string }

// stepFuzz gives each target a minute. The go command fuzzes one at a time.
func stepFuzz(ctx context.Context, _ *trial) error {
	pkgs, err := plainPackages(ctx)
	if err != nil {
		return err
	}
	var targets []target
	for _, pkg := range pkgs {
		out, err := output(ctx, []string{cgo(false)}, "go", goArgs("test", "-list", "^Fuzz", pkg)...)
		if err != nil {
			return err
		}
		targets = append(targets, fuzzTargets(pkg, out)...)
	}
	if len(targets) == 0 {
		return errSkipped("there is no fuzz target")
	}
	for _, f := range targets {
		say("%s %s", f.pkg, f.name)
		args := goArgs("test", "-run", "^$", "-fuzz", "^"+f.name+"$", "-fuzztime", "60s", f.pkg)
		if err := show(ctx, []string{cgo(false)}, "go", args...); err != nil {
			return fmt.Errorf("%s of %s found an input that breaks it; it is kept under testdata/fuzz of that package, where it now is a test: %w", f.name, f.pkg, err)
		}
	}
	return nil
}

// fuzzTargets reads what go test -list printed for one package.
func fuzzTargets(pkg, listed string) []target {
	var out []target
	for line := range strings.Lines(listed) {
		if name := strings.TrimSpace(line); strings.HasPrefix(name, "Fuzz") {
			out = append(out, target{pkg, name})
		}
	}
	return out
}

// stepSchedules plays the big dose of the merge's tests.
func stepSchedules(ctx context.Context, t *trial) error {
	return goTest(ctx, t.tally, []string{"MVUKE_SCHEDULES=1000000", "MVUKE_SMALL_WORLD=6", cgo(false)}, "-tags", buildTags, "-timeout", "5h", "-run", "Schedules|SmallWorld", "./model/register")
}

// stepCut cuts the power of a whole machine, with the ledger as the program
// has it and as it would be with less care, which must show a difference.
func stepCut(ctx context.Context, t *trial) error {
	if runtime.GOOS != "linux" || runtime.GOARCH != "amd64" {
		return errSkipped("the machine whose power is cut needs Linux on amd64")
	}
	return goTest(ctx, t.tally, []string{longEnv, cgo(false)}, "-tags", buildTags, "-timeout", "90m", cutPkg)
}
