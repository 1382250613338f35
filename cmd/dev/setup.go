package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// setup makes sure that the system has what n names. Where nothing lacks it
// does nothing and costs a few milliseconds, so that every command begins
// with it.
func setup(ctx context.Context, n needs) error {
	if runtime.GOOS != "linux" {
		return setupElsewhere(ctx, n)
	}
	release, _ := os.ReadFile("/etc/os-release")
	if _, err := exec.LookPath("dpkg-query"); err != nil || !isDebian(string(release)) {
		return setupElsewhere(ctx, n)
	}
	required, optional := installed(ctx, n.required), installed(ctx, n.optional)
	if len(required)+len(optional) == 0 {
		return nil
	}
	root := os.Geteuid() == 0
	if len(required) > 0 {
		if !root {
			say("These system packages are missing; run this command, then start again:\n\n%s\n", installLine(required, false))
			return errShown
		}
		if err := install(ctx, required, true); err != nil {
			return err
		}
	}
	if len(optional) > 0 {
		setupOptional(ctx, optional, root, len(required) > 0)
	}
	return nil
}

// installed gives what is not: those of pkgs the system lacks.
func installed(ctx context.Context, pkgs []string) []string {
	if len(pkgs) == 0 {
		return nil
	}
	// It fails when a package is unknown to it, and prints the others still.
	out, _ := newCommand(ctx, nil, "dpkg-query", append([]string{"-W", "-f=" + dpkgFormat}, pkgs...)...).Output()
	return missing(pkgs, string(out))
}

// setupOptional tries for packages that are good to have. What cannot be had
// is said once in each run and stops nothing. Only what apt knows is tried,
// for without that every run would wait for the network in vain.
func setupOptional(ctx context.Context, pkgs []string, root, updated bool) {
	if root {
		lists, _ := filepath.Glob("/var/lib/apt/lists/*Packages*")
		out, _ := output(ctx, nil, "apt-cache", append([]string{"policy"}, pkgs...)...)
		known := available(pkgs, out)
		if len(lists) == 0 && !updated {
			known = pkgs
		}
		if len(known) > 0 {
			if err := install(ctx, known, len(lists) == 0 && !updated); err != nil {
				say("note: some tests will be skipped: %v", err)
				return
			}
			pkgs = installed(ctx, pkgs)
		}
	}
	if len(pkgs) > 0 {
		say("note: without %s some tests are skipped. To have them: %s", strings.Join(pkgs, ", "), installLine(pkgs, root))
	}
}

// install runs apt-get, whose many lines are shown only if it fails. It waits
// for another apt-get, which on a new machine is often busy with updates.
func install(ctx context.Context, pkgs []string, update bool) error {
	start := time.Now()
	say("installing %d system packages: %s", len(pkgs), strings.Join(pkgs, " "))
	defer watch("installing")()
	jobs := [][]string{append([]string{"install", "-y", "--no-install-recommends"}, pkgs...)}
	if update {
		jobs = append([][]string{{"update"}}, jobs...)
	}
	for _, job := range jobs {
		args := append([]string{"-q", "-o", "DPkg::Lock::Timeout=300"}, job...)
		out, err := newCommand(ctx, []string{"DEBIAN_FRONTEND=noninteractive"}, "apt-get", args...).CombinedOutput()
		if err != nil {
			return errors.Join(fmt.Errorf("apt-get %s did not work: %w; it said:\n%s", job[0], err, out),
				fmt.Errorf("see that the computer is online, or run this by hand: %s", installLine(pkgs, true)))
		}
	}
	say("installed in %d s", int(time.Since(start).Seconds()+0.5))
	return nil
}
