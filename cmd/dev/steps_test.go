package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
)

func names(steps []step) string {
	var out []string
	for _, s := range steps {
		out = append(out, s.name)
	}
	return strings.Join(out, " ")
}

func TestChoose(t *testing.T) {
	for _, c := range []struct {
		only string
		long bool
		want string
	}{
		{"", false, "gofmt vet staticcheck modules test race build window"},
		{"", true, "gofmt vet staticcheck modules test race build window schedules fuzz cut"},
		{"modules", false, "modules"},
		{"4", false, "modules"},
		{"cut", false, "cut"},
	} {
		got, err := choose(allSteps(), c.only, c.long)
		if err != nil || names(got) != c.want {
			t.Errorf("only %q, long %v: %q, %v; want %q", c.only, c.long, names(got), err, c.want)
		}
	}
	for _, only := range []string{"0", "12", "tests"} {
		if _, err := choose(allSteps(), only, true); err == nil || !strings.Contains(err.Error(), "gofmt, vet") {
			t.Errorf("only %q: %v, which does not name the steps", only, err)
		}
	}
}

// captured runs f and gives what it said.
func captured(t *testing.T, f func()) string {
	t.Helper()
	var b bytes.Buffer
	defer func(w io.Writer) { stdout = w }(stdout)
	stdout = &lockedWriter{w: &b}
	f()
	return b.String()
}

func TestTryStopsAtTheFirstFailure(t *testing.T) {
	var ran []string
	made := func(name string, err error) step {
		return step{name: name, run: func(context.Context, *trial) error {
			ran = append(ran, name)
			return err
		}}
	}
	var err error
	out := captured(t, func() {
		err = try(t.Context(), []step{made("a", nil), made("b", errSkipped("no reason")), made("c", errors.New("it is broken")), made("d", nil)},
			&trial{long: true, tally: newTally()})
	})
	if err != errShown || !slices.Equal(ran, []string{"a", "b", "c"}) {
		t.Errorf("%v after %q", err, ran)
	}
	for _, want := range []string{"it is broken", "no reason", "go run ./cmd/dev test --only c --long\n", "1 more steps were not run"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in:\n%s", want, out)
		}
	}
	// The step had no test, and yet something failed.
	if !strings.HasSuffix(out, "\n0 passed, 1 failed\n") {
		t.Errorf("the last line is not the count:\n%s", out)
	}
}

func TestFuzzTargets(t *testing.T) {
	got := fuzzTargets("m/p", "FuzzA\nFuzzB\nok  \tm/p\t0.01s\n")
	if want := []target{{"m/p", "FuzzA"}, {"m/p", "FuzzB"}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestRequired(t *testing.T) {
	mod := []byte(`{"Require":[{"Path":"a","Version":"v1.0.0"},{"Path":"b","Version":"v2.0.0"}]}`)
	if v, err := required(mod, "b"); v != "v2.0.0" || err != nil {
		t.Errorf("%q, %v", v, err)
	}
	if _, err := required(mod, "c"); err == nil {
		t.Error("a module that is not there was found")
	}
}

func TestWithoutWindow(t *testing.T) {
	got := withoutWindow([]string{"mvuke/steam", "mvuke/cmd/mvuke", "mvuke/cmd/mvuke/paint", "mvuke/cmd/mvukectl"})
	if want := []string{"mvuke/steam", "mvuke/cmd/mvukectl"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestWrongCommandsAreUsage(t *testing.T) {
	for _, args := range [][]string{{}, {"tset"}} {
		if err := command(t.Context(), args); !errors.As(err, new(usageError)) {
			t.Errorf("%q: %v", args, err)
		}
	}
}
