package main

import (
	"context"
	"errors"
	"runtime"
	"strings"
)

// staticcheckTool is pinned, so that a new release of it fails no old commit.
const staticcheckTool = "honnef.co/go/tools/cmd/staticcheck@v0.8.2"

// allSteps are in order of cost, so that the quick ones fail first.
func allSteps() []step {
	return []step{
		{name: "gofmt", title: "every file is in the one format", run: stepGofmt},
		{name: "vet", title: "no suspicious code (compiles the toolkit; five minutes the first time)", run: stepVet, system: true},
		{name: "staticcheck", title: "no mistakes staticcheck knows", run: stepStaticcheck},
		{name: "modules", title: "versions that belong together are together", run: stepModules},
		{name: "test", title: "all tests that need no C", run: stepTest, system: true},
		{name: "race", title: "no two threads at one value", run: stepRace, system: true},
		{name: "build", title: "the desktop program builds", run: stepBuild, system: true},
		{name: "window", title: "the real window, worked by a mouse and keys", run: stepWindow, system: true},
		{name: "schedules", title: "a million schedules of devices that never meet, and a larger small world", run: stepSchedules, long: true},
		{name: "fuzz", title: "each fuzz target for a minute", run: stepFuzz, long: true},
		{name: "cut", title: "power cuts of a whole machine", run: stepCut, system: true, long: true},
	}
}

// plainPackages are all that are built without C. They are listed with C
// allowed, because without it the window program cannot even be listed; no
// compiler is called for that.
func plainPackages(ctx context.Context) ([]string, error) {
	out, err := output(ctx, []string{cgo(true)}, "go", "list", "-tags", buildTags, "./...")
	if err != nil {
		return nil, err
	}
	return withoutWindow(strings.Fields(out)), nil
}

// stepVet looks at the window program twice: as it is shipped, and with the
// tests that drive a real window.
func stepVet(ctx context.Context, _ *trial) error {
	pkgs, err := plainPackages(ctx)
	if err != nil {
		return err
	}
	if err := show(ctx, []string{cgo(false)}, "go", goArgs("vet", pkgs...)...); err != nil {
		return err
	}
	for _, tags := range []string{buildTags, windowTags} {
		if err := show(ctx, []string{cgo(true)}, "go", "vet", "-buildvcs=false", "-tags", tags, "./cmd/mvuke/..."); err != nil {
			return err
		}
	}
	return nil
}

func stepStaticcheck(ctx context.Context, _ *trial) error {
	pkgs, err := plainPackages(ctx)
	if err != nil {
		return err
	}
	args := append([]string{"run", staticcheckTool, "-tags", buildTags}, pkgs...)
	if err := show(ctx, []string{cgo(false)}, "go", args...); err != nil {
		return errors.Join(err, errors.New("correct what is listed above; if nothing is listed, staticcheck itself could not be fetched: it needs the internet once"))
	}
	return nil
}

func stepTest(ctx context.Context, t *trial) error {
	pkgs, err := plainPackages(ctx)
	if err != nil {
		return err
	}
	var env []string
	if t.long {
		// Power cuts are a step of their own then, on an otherwise idle machine.
		env = append(env, longEnv)
		pkgs = without(pkgs, cutPkg)
	}
	return goTest(ctx, t.tally, append(env, cgo(false)), append([]string{"-tags", buildTags, "-timeout", "30m"}, pkgs...)...)
}

func stepRace(ctx context.Context, t *trial) error {
	if !raceWorks() {
		return errSkipped("the race detector cannot run on " + runtime.GOOS + "/" + runtime.GOARCH + " with what is installed")
	}
	return goTest(ctx, t.tally, []string{cgo(true)}, "-race", "-tags", buildTags, "-short", "-timeout", "30m",
		"./model/...", "./app/work", "./app/home")
}

func stepBuild(ctx context.Context, _ *trial) error {
	_, err := compile(ctx)
	return err
}

// windowTags take in the tests that open a window, which nothing else does.
const windowTags = buildTags + ",realwindow"

// stepWindow leaves it to the tests to open a screen in memory: some need more
// than one.
func stepWindow(ctx context.Context, t *trial) error {
	if runtime.GOOS != "linux" {
		return errSkipped("the window is worked through Xvfb, which is for Linux")
	}
	bin, err := compile(ctx)
	if err != nil {
		return err
	}
	return goTest(ctx, t.tally, []string{cgo(true), "MVUKE_BIN=" + bin}, "-tags", windowTags, "-run", "Window", "-timeout", "20m", "./cmd/mvuke")
}
