package main

import (
	"slices"
	"strings"
)

// What the system must have besides Go and git, by the names of the packages
// of Debian and Ubuntu.
var (
	// buildPackages compile the toolkit: a C compiler and the headers of X11,
	// Wayland and OpenGL.
	buildPackages = strings.Fields("gcc libc6-dev pkg-config libgl1-mesa-dev libx11-dev libxcursor-dev libxrandr-dev libxinerama-dev libxi-dev libxxf86vm-dev libwayland-dev libxkbcommon-dev")

	// runPackages draw: OpenGL, and its software renderer for computers
	// without a graphics card of use.
	runPackages = strings.Fields("libgl1 libgl1-mesa-dri")

	// testPackages work the window as a person would, on a screen in memory,
	// and look into printed sheets.
	testPackages = strings.Fields("xvfb xdotool imagemagick openbox wmctrl poppler-utils x11-utils")

	// optionalPackages serve tests that skip without them: a second opinion on
	// the steam tables, and the machine whose power is cut. They are not to be
	// had on every system.
	optionalPackages = strings.Fields("python3-iapws user-mode-linux e2fsprogs dosfstools")

	// screenPackages are the screen in memory alone, for pictures.
	screenPackages = []string{"xvfb"}
)

// needs is what a command wants of the system.
type needs struct{ required, optional []string }

var (
	needWindow = needs{required: slices.Concat(buildPackages, runPackages)}
	needShots  = needs{required: slices.Concat(buildPackages, runPackages, screenPackages)}
	needTests  = needs{required: slices.Concat(buildPackages, runPackages, testPackages), optional: optionalPackages}
)

// dpkgFormat has dpkg-query print one line for each package it knows.
const dpkgFormat = `${Package} ${Status}\n`

// missing says which of want are not installed, given what dpkg-query printed
// in dpkgFormat. A removed package of which settings remain is printed too,
// with another status; one never seen is not printed at all.
func missing(want []string, printed string) []string {
	have := map[string]bool{}
	for line := range strings.Lines(printed) {
		name, status, _ := strings.Cut(strings.TrimSpace(line), " ")
		if status == "install ok installed" || status == "hold ok installed" {
			have[name] = true
		}
	}
	var out []string
	for _, p := range want {
		if !have[p] {
			out = append(out, p)
		}
	}
	return out
}

// available says which of want apt could install, given what apt-cache policy
// printed: a heading for each package it knows, and its candidate below.
func available(want []string, policy string) []string {
	var out []string
	name := ""
	for line := range strings.Lines(policy) {
		if !strings.HasPrefix(line, " ") {
			name = strings.TrimSuffix(strings.TrimSpace(line), ":")
			continue
		}
		if c, ok := strings.CutPrefix(strings.TrimSpace(line), "Candidate: "); ok && c != "(none)" && slices.Contains(want, name) {
			out = append(out, name)
		}
	}
	return out
}

// installLine is the one command that brings pkgs in, to be copied by a person.
func installLine(pkgs []string, root bool) string {
	sudo := "sudo "
	if root {
		sudo = ""
	}
	return sudo + "apt-get update && " + sudo + "apt-get install -y --no-install-recommends " + strings.Join(pkgs, " ")
}

// isDebian reads /etc/os-release: Debian, Ubuntu, or what descends from them.
func isDebian(osRelease string) bool {
	for line := range strings.Lines(osRelease) {
		key, value, _ := strings.Cut(strings.TrimSpace(line), "=")
		if key != "ID" && key != "ID_LIKE" {
			continue
		}
		for _, id := range strings.Fields(strings.Trim(value, `"'`)) {
			if id == "debian" || id == "ubuntu" {
				return true
			}
		}
	}
	return false
}
