package main

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"runtime"
	"slices"
	"strings"
)

// linuxLibraries are what pkg-config must know to build the toolkit, on a
// Linux whose package names are not known here.
var linuxLibraries = strings.Fields("gl x11 xcursor xrandr xinerama xi xxf86vm wayland-client xkbcommon")

// testPrograms are what the test packages bring, by the program called.
var testPrograms = strings.Fields("Xvfb xdotool convert openbox wmctrl pdftotext xprop")

// setupElsewhere looks whether a system without apt-get has what is needed.
// It installs nothing there, and says in words what is lacking.
func setupElsewhere(ctx context.Context, n needs) error {
	switch runtime.GOOS {
	case "darwin":
		if exec.CommandContext(ctx, "xcode-select", "-p").Run() != nil {
			return errors.New("the command line tools of Xcode are missing; run: xcode-select --install")
		}
		return nil
	case "windows":
		if _, err := exec.LookPath(compiler()); err != nil {
			return errors.New("a C compiler is missing; install gcc, for example from MSYS2 (https://www.msys2.org): " +
				"in its shell run 'pacman -S mingw-w64-ucrt-x86_64-gcc', then add C:\\msys64\\ucrt64\\bin to PATH")
		}
		return nil
	case "linux":
		return setupLinux(ctx, n)
	}
	say("note: %s is not a system this was tried on; the toolkit needs a C compiler and the headers of X11 and OpenGL.", runtime.GOOS)
	return nil
}

func setupLinux(ctx context.Context, n needs) error {
	var lacking []string
	lacks := func(program string) bool {
		_, err := exec.LookPath(program)
		return err != nil
	}
	for _, program := range []string{compiler(), "pkg-config"} {
		if lacks(program) {
			lacking = append(lacking, "the program "+program)
		}
	}
	if !lacks("pkg-config") {
		for _, lib := range linuxLibraries {
			if exec.CommandContext(ctx, "pkg-config", "--exists", lib).Run() != nil {
				lacking = append(lacking, "the headers of the library "+lib)
			}
		}
	}
	for _, program := range programsFor(n) {
		if lacks(program) {
			lacking = append(lacking, "the program "+program)
		}
	}
	if len(lacking) == 0 {
		return nil
	}
	return fmt.Errorf("this Linux lacks:\n  %s\ninstall them with its package manager (in the names of Debian: %s), then start again",
		strings.Join(lacking, "\n  "), strings.Join(n.required, " "))
}

// programsFor says which programs a command calls besides the compiler.
func programsFor(n needs) []string {
	switch {
	case slices.Contains(n.required, "xdotool"):
		return testPrograms
	case slices.Contains(n.required, "xvfb"):
		return []string{"Xvfb"}
	}
	return nil
}
