package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// goTest runs go test, shows of it what a person would want, and counts.
func goTest(ctx context.Context, t *tally, env []string, args ...string) error {
	args = append([]string{"test", "-json", "-count=1", "-buildvcs=false"}, args...)
	c := newCommand(ctx, env, "go", args...)
	c.Stderr = stdout
	pipe, err := c.StdoutPipe()
	if err != nil {
		return err
	}
	if err := c.Start(); err != nil {
		return err
	}
	reader := &testReader{tally: t, out: stdout, held: map[string]*strings.Builder{}, open: map[string]map[string]bool{}}
	if err := reader.read(pipe); err != nil {
		io.Copy(io.Discard, pipe)
		c.Wait()
		return fmt.Errorf("what go test printed could not be read: %w", err)
	}
	if err := c.Wait(); err != nil {
		return failed("go", args, err)
	}
	return nil
}

// An event is one line of go test -json; see go doc test2json.
type event struct {
	Action, Package, Test, Output string
}

// A testReader turns events into what go test prints without -json: a line
// for each package, and all that was printed by what failed. It is needed
// because go test itself says nowhere how many tests it ran.
type testReader struct {
	tally *tally
	out   io.Writer
	held  map[string]*strings.Builder // output not yet known to be wanted
	open  map[string]map[string]bool  // tests begun and not ended, by package
}

func (r *testReader) read(in io.Reader) error {
	lines := bufio.NewReader(in)
	for {
		line, err := lines.ReadString('\n')
		if line != "" {
			var e event
			if !strings.HasPrefix(line, "{") || json.Unmarshal([]byte(line), &e) != nil {
				fmt.Fprint(r.out, line) // not an event: the go command itself speaks
			} else {
				r.take(e)
			}
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func (r *testReader) take(e event) {
	top, _, isSub := strings.Cut(e.Test, "/")
	key := e.Package + "\x00" + top
	switch e.Action {
	case "build-output":
		fmt.Fprint(r.out, e.Output)
	case "output":
		if strings.HasPrefix(e.Output, "=== ") {
			return
		}
		if r.held[key] == nil {
			r.held[key] = &strings.Builder{}
		}
		r.held[key].WriteString(e.Output)
	case "run":
		if !isSub {
			if r.open[e.Package] == nil {
				r.open[e.Package] = map[string]bool{}
			}
			r.open[e.Package][top] = true
		}
	case "pass", "fail", "skip":
		if isSub {
			return
		}
		text := ""
		if b := r.held[key]; b != nil {
			text = b.String()
		}
		delete(r.held, key)
		if e.Test == "" {
			r.endPackage(e, text)
			return
		}
		delete(r.open[e.Package], top)
		r.tally.add(e.Package, top, e.Action)
		if e.Action == "fail" {
			fmt.Fprint(r.out, text)
		}
	}
}

// endPackage shows a package's last line; of a failed one all it printed, and
// all that tests printed which a crash or the time limit kept from ending.
func (r *testReader) endPackage(e event, text string) {
	if e.Action != "fail" {
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "ok ") || strings.HasPrefix(line, "? ") {
				fmt.Fprint(r.out, line)
			}
		}
		return
	}
	for top := range r.open[e.Package] {
		if b := r.held[e.Package+"\x00"+top]; b != nil {
			fmt.Fprint(r.out, b.String())
		}
		r.tally.add(e.Package, top, "fail")
	}
	fmt.Fprint(r.out, text)
	r.tally.packageFailed(e.Package)
}
