package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A step is one thing that must hold.
type step struct {
	name   string // what --only takes
	title  string
	run    func(context.Context, *trial) error
	system bool // needs packages of the system
	long   bool // only with --long, or when asked for by name
}

// A trial is what the steps of one run share.
type trial struct {
	long  bool
	tally *tally
}

// outcome is how a step went, for the summary.
type outcome struct {
	name, word string
	took       time.Duration
}

// errSkipped ends a step that has nothing to do here; its words say why.
type errSkipped string

func (e errSkipped) Error() string { return string(e) }

func test(ctx context.Context, args []string) error {
	fs := flag.NewFlagSet("test", flag.ContinueOnError)
	long := fs.Bool("long", false, "also fuzz and cut the power")
	only := fs.String("only", "", "run one step only: "+strings.Join(stepNames(), ", "))
	if err := parse(fs, args); err != nil {
		return err
	}
	chosen, err := choose(allSteps(), *only, *long)
	if err != nil {
		return usageError{err}
	}
	if slices.ContainsFunc(chosen, func(s step) bool { return s.system }) {
		if err := setup(ctx, needTests); err != nil {
			return err
		}
	}
	return try(ctx, chosen, &trial{long: *long, tally: newTally()})
}

// try runs the steps in order and stops at the first that fails, because
// those after it are slower and would mostly fail for the same reason.
func try(ctx context.Context, steps []step, t *trial) error {
	var done []outcome
	var failure error
	for i, s := range steps {
		say("\n== %d/%d %s: %s", i+1, len(steps), s.name, s.title)
		start := time.Now()
		before := t.tally.failed()
		stop := watch(s.name)
		err := s.run(ctx, t)
		stop()
		o := outcome{s.name, "passed", time.Since(start)}
		var skipped errSkipped
		switch {
		case errors.As(err, &skipped):
			o.word = "skipped"
			say("skipped: %v", err)
		case err != nil:
			o.word, failure = "FAILED", err
			if t.tally.failed() == before {
				t.tally.other++ // a step without tests failed: it counts as one
			}
			say("%v", err)
			say("\nStep %s failed. To run it alone again: %s", s.name, again(s, t.long))
		}
		say("   %s, %.1f s", o.word, o.took.Seconds())
		done = append(done, o)
		if failure != nil {
			break
		}
	}
	summary(done, len(steps)-len(done), t.tally)
	if failure != nil {
		return errShown
	}
	return nil
}

func again(s step, long bool) string {
	line := "go run ./cmd/dev test --only " + s.name
	if long && !s.long {
		line += " --long"
	}
	return line
}

// summary ends with a line that a program can read as well.
func summary(done []outcome, left int, t *tally) {
	say("\n%-12s %9s", "step", "seconds")
	for _, o := range done {
		say("%-12s %9.1f  %s", o.name, o.took.Seconds(), o.word)
	}
	if left > 0 {
		say("%d more steps were not run", left)
	}
	if n := t.skipped(); n > 0 {
		say("%d tests were skipped", n)
	}
	say("%d passed, %d failed", t.passed(), t.failed())
}

// choose picks the steps of a run. Only is a name or a number, counted from 1.
func choose(all []step, only string, long bool) ([]step, error) {
	if only == "" {
		return slices.DeleteFunc(all, func(s step) bool { return s.long && !long }), nil
	}
	n, err := strconv.Atoi(only)
	for i, s := range all {
		if s.name == only || err == nil && n == i+1 {
			return []step{s}, nil
		}
	}
	return nil, fmt.Errorf("test has no step %q; the steps are, in order: %s", only, strings.Join(stepNames(), ", "))
}

func stepNames() []string {
	var names []string
	for _, s := range allSteps() {
		names = append(names, s.name)
	}
	return names
}
