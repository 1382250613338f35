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

// build makes bin/mvuke and says that it is alive meanwhile.
func build(ctx context.Context) (string, error) {
	defer watch("building")()
	return compile(ctx)
}

// compile makes bin/mvuke, or finds in a second or two that it is up to date.
func compile(ctx context.Context) (string, error) {
	bin, err := binary()
	if err != nil {
		return "", err
	}
	if _, err := os.Stat("cmd/mvuke"); err != nil {
		return "", errors.New("there is no folder cmd/mvuke in this checkout, so there is no desktop program to build; fetch the whole project and start again")
	}
	if _, err := os.Stat(bin); err != nil {
		say("building the desktop program; the first build takes about five minutes")
	}
	start := time.Now()
	if err := show(ctx, []string{cgo(true)}, "go", goArgs("build", "-o", bin, "./cmd/mvuke")...); err != nil {
		return "", fmt.Errorf("the desktop program was not built; what the compiler said is above: %w", err)
	}
	if took := time.Since(start); took > tick {
		say("built in %d s", int(took.Seconds()+0.5))
	}
	return bin, nil
}

// binary is the absolute path of the built desktop program.
func binary() (string, error) {
	name := "mvuke"
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	return filepath.Abs(filepath.Join("bin", name))
}

// compiler is the C compiler that cgo will call.
func compiler() string {
	if cc, _, _ := strings.Cut(os.Getenv("CC"), " "); cc != "" {
		return cc
	}
	if runtime.GOOS == "darwin" {
		return "clang"
	}
	return "gcc"
}

// raceWorks says where the race detector can run: its own list of systems,
// and a C compiler to link it with.
func raceWorks() bool {
	switch runtime.GOOS + "/" + runtime.GOARCH {
	case "darwin/amd64", "darwin/arm64", "linux/amd64", "linux/arm64", "windows/amd64", "freebsd/amd64":
		_, err := exec.LookPath(compiler())
		return err == nil
	}
	return false
}
