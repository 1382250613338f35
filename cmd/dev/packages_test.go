package main

import (
	"slices"
	"strings"
	"testing"
)

func TestMissing(t *testing.T) {
	printed := "gcc install ok installed\nxvfb deinstall ok config-files\nlibgl1 hold ok installed\nopenbox install ok half-configured\n"
	got := missing([]string{"gcc", "xvfb", "libgl1", "openbox", "xdotool"}, printed)
	if want := []string{"xvfb", "openbox", "xdotool"}; !slices.Equal(got, want) {
		t.Errorf("missing %q, want %q", got, want)
	}
	if got := missing([]string{"gcc"}, printed); got != nil {
		t.Errorf("missing %q, want none", got)
	}
}

func TestAvailable(t *testing.T) {
	policy := "python3-iapws:\n  Installed: (none)\n  Candidate: 1.5.2-2\n  Version table:\n" +
		"user-mode-linux:\n  Installed: (none)\n  Candidate: (none)\n"
	got := available([]string{"python3-iapws", "user-mode-linux", "e2fsprogs"}, policy)
	if want := []string{"python3-iapws"}; !slices.Equal(got, want) {
		t.Errorf("available %q, want %q", got, want)
	}
}

func TestInstallLineIsOneCommand(t *testing.T) {
	got := installLine([]string{"gcc", "xvfb"}, false)
	if want := "sudo apt-get update && sudo apt-get install -y --no-install-recommends gcc xvfb"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := installLine([]string{"gcc"}, true); strings.Contains(got, "sudo") || strings.Contains(got, "\n") {
		t.Errorf("for root: %q", got)
	}
}

func TestIsDebian(t *testing.T) {
	for release, want := range map[string]bool{
		"PRETTY_NAME=\"Debian GNU/Linux 12\"\nID=debian\n": true,
		"ID=ubuntu\nID_LIKE=debian\n":                      true,
		"ID=linuxmint\nID_LIKE=\"ubuntu debian\"\n":        true,
		"ID=fedora\nID_LIKE=\"rhel\"\n":                    false,
		"NAME=debian\n":                                    false,
		"":                                                 false,
	} {
		if got := isDebian(release); got != want {
			t.Errorf("%q: %v, want %v", release, got, want)
		}
	}
}

// Pictures must not wait for what only tests use.
func TestShotsNeedNoTestPrograms(t *testing.T) {
	if got := programsFor(needShots); !slices.Equal(got, []string{"Xvfb"}) {
		t.Errorf("pictures call %q", got)
	}
	if got := programsFor(needWindow); len(got) > 0 {
		t.Errorf("the window calls %q", got)
	}
	if got := programsFor(needTests); !slices.Contains(got, "xdotool") {
		t.Errorf("tests call %q", got)
	}
}

func TestHaveScreen(t *testing.T) {
	env := func(set string) func(string) string {
		return func(name string) string {
			if name == set {
				return ":0"
			}
			return ""
		}
	}
	for _, c := range []struct {
		system, set string
		want        bool
	}{{"linux", "", false}, {"linux", "DISPLAY", true}, {"linux", "WAYLAND_DISPLAY", true}, {"darwin", "", true}, {"windows", "", true}} {
		if got := haveScreen(c.system, env(c.set)); got != c.want {
			t.Errorf("%s with %q set: %v", c.system, c.set, got)
		}
	}
}
