// Dev is the one program a developer needs besides Go and git: it brings in
// what the system lacks, builds the desktop program and runs it, tests it,
// takes pictures of its screens and measures it.
//
//	go run ./cmd/dev run|test|shots|bench
//
// It uses the standard library only, so that it starts on a machine on which
// nothing has been downloaded yet.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

const usage = `Mvuke for developers. From the top folder of the project:

  go run ./cmd/dev run [--demo] [--data DIR] [--lang LANG]
        build the desktop program and start it; every option goes to the
        program itself. Without a screen: the demo cycle, its printed sheet
        and pictures of the screens, in out/demo.

  go run ./cmd/dev test [--long] [--only STEP]
        everything that must hold before a change goes in.
        --long adds fuzzing and power cuts (an hour or so);
        --only runs one step, by its name or number.

  go run ./cmd/dev shots [--out DIR]
        pictures of all screens at 1024x600 and 1366x768, in out/shots.

  go run ./cmd/dev bench [--out FILE]
        how fast and how big, each beside its baseline, in out/bench.json.

Packages the system lacks are installed on Debian and Ubuntu when run as
root; otherwise the command that installs them is shown.
`

// A usageError is a command line that means nothing here; it has an exit code
// of its own, so that scripts can tell it from a failed test.
type usageError struct{ error }

// errShown stops with exit code 1 where all words have been said already.
var errShown = errors.New("already shown")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(exitCode(command(ctx, os.Args[1:])))
}

func exitCode(err error) int {
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.Is(err, errShown):
		return 1
	}
	fmt.Fprintln(os.Stderr, "dev:", err)
	if errors.As(err, new(usageError)) {
		return 2
	}
	return 1
}

func command(ctx context.Context, args []string) error {
	if len(args) == 0 {
		fmt.Fprint(os.Stderr, usage)
		return usageError{errors.New("no command given; say run, test, shots or bench")}
	}
	name, rest := args[0], args[1:]
	do, ok := map[string]func(context.Context, []string) error{
		"run": run, "test": test, "shots": shots, "bench": bench,
	}[name]
	switch {
	case name == "help", name == "-h", name == "-help", name == "--help":
		fmt.Print(usage)
		return nil
	case !ok:
		return usageError{fmt.Errorf("there is no command %q; say run, test, shots or bench, or help for what they do", name)}
	}
	if err := atTop(); err != nil {
		return err
	}
	return do(ctx, rest)
}

// atTop makes sure that the paths below, all relative, mean the project's own.
func atTop() error {
	mod, err := os.ReadFile("go.mod")
	if err == nil && strings.HasPrefix(string(mod), "module mvuke\n") {
		return nil
	}
	return errors.New("this is not the top folder of the project; change to the folder that has its go.mod and run the command again")
}

// parse reads options of a command that takes nothing else.
func parse(fs *flag.FlagSet, args []string) error {
	fs.SetOutput(os.Stderr)
	if err := fs.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return usageError{fmt.Errorf("%s: %w", fs.Name(), err)}
	}
	if fs.NArg() > 0 {
		return usageError{fmt.Errorf("%s takes no %q; run 'go run ./cmd/dev help' for what it takes", fs.Name(), fs.Arg(0))}
	}
	return nil
}
