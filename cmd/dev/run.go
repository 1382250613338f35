package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
)

// demoDir takes what run makes where there is no screen.
const demoDir = "out/demo"

// run builds the desktop program and becomes it. Its options are the
// program's own and are not looked at here, so that they need not be kept in
// two places.
func run(ctx context.Context, args []string) error {
	if slices.ContainsFunc(args, func(a string) bool { return a == "-h" || a == "-help" || a == "--help" }) {
		fmt.Print(usage)
		return nil
	}
	if !haveScreen(runtime.GOOS, os.Getenv) {
		return runHeadless(ctx, args)
	}
	if err := setup(ctx, needWindow); err != nil {
		return err
	}
	bin, err := build(ctx)
	if err != nil {
		return err
	}
	return become(ctx, bin, args)
}

// haveScreen says whether a window could open.
func haveScreen(system string, env func(string) string) bool {
	return system != "linux" || env("DISPLAY") != "" || env("WAYLAND_DISPLAY") != ""
}

// become puts the program in the place of this one, so that signals and the
// exit code are its own; Windows cannot, and runs it below this one.
func become(ctx context.Context, bin string, args []string) error {
	if runtime.GOOS != "windows" {
		err := syscall.Exec(bin, append([]string{bin}, args...), os.Environ())
		return fmt.Errorf("%s was built but does not start: %w", bin, err)
	}
	c := newCommand(ctx, nil, bin, args...)
	c.Stdin, c.Stdout, c.Stderr = os.Stdin, os.Stdout, os.Stderr
	return c.Run()
}

// runHeadless shows what can be seen without a screen: the same cycle through
// the same code, its sheet as a PDF, and pictures of the screens. The sheet
// comes first, since it needs neither a C compiler nor a single package.
func runHeadless(ctx context.Context, args []string) error {
	say("There is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set), so no window can open.")
	say("The demo cycle runs without one instead, through the same code.")
	if rest := slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == "--demo" || a == "-demo" }); len(rest) > 0 {
		say("note: %q is for the window and is not used here", rest)
	}
	out, err := filepath.Abs(demoDir)
	if err != nil {
		return err
	}
	stop := watch("demo cycle")
	err = show(ctx, []string{cgo(false)}, "go", goArgs("run", "./cmd/mvukectl", "demo", "--out", demoDir)...)
	stop()
	if err != nil {
		return fmt.Errorf("the demo cycle did not run; what it said is above: %w", err)
	}
	say("Now pictures of the screens, taken on a screen in memory.")
	if err := setup(ctx, needShots); err != nil {
		if err != errShown {
			say("note: %v", err)
		}
		say("No pictures were taken: that needs the packages above. All else is in %s", out)
		return nil
	}
	if err := takeShots(ctx, demoDir); err != nil {
		return fmt.Errorf("the demo cycle is in %s, but no pictures were taken: %w", out, err)
	}
	say("Everything is in %s", out)
	return nil
}
