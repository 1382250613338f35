package main

import (
	"slices"
	"strings"
)

// buildTags are the same for every build, vet and test, so that what is tested
// is what is shipped, and so that the C code of the toolkit is compiled once.
// Without x11 the toolkit chooses its own window system on Linux;
// migrated_fynedo declares that all drawing is done on the toolkit's own
// thread, which it then need not guard; no_emoji leaves out a font of emoji
// that no screen uses.
const buildTags = "x11,migrated_fynedo,no_emoji"

// windowPkg is the only program that needs a C compiler. All else is built
// with CGO_ENABLED=0, which proves that it stays free of C.
const windowPkg = "mvuke/cmd/mvuke"

// cutPkg cuts the power of a whole machine; with --long it is a step of its own.
const cutPkg = "mvuke/cmd/dev/cut"

// goArgs gives a go command the build flags. There is no -trimpath: it would
// have the toolkit compiled a second time, apart from what vet and test share.
// Nothing is stamped with the state of the checkout, since that fails where
// the checkout belongs to another user, as in many build machines.
func goArgs(verb string, args ...string) []string {
	return append([]string{verb, "-tags", buildTags, "-buildvcs=false"}, args...)
}

func cgo(on bool) string {
	if on {
		return "CGO_ENABLED=1"
	}
	return "CGO_ENABLED=0"
}

// withoutWindow leaves out the packages that need a C compiler.
func withoutWindow(pkgs []string) []string {
	var out []string
	for _, p := range pkgs {
		if p != windowPkg && !strings.HasPrefix(p, windowPkg+"/") {
			out = append(out, p)
		}
	}
	return out
}

// without leaves one out.
func without(list []string, one string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return s == one })
}
