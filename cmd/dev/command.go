package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"time"
)

// tick is how often a long job says that it is still alive; shorter than
// anybody waits before giving up on it.
const tick = 15 * time.Second

// stdout is shared by jobs and the line that says they are alive, so that
// neither falls into the middle of the other.
var stdout io.Writer = &lockedWriter{w: os.Stdout}

type lockedWriter struct {
	mu sync.Mutex
	w  io.Writer
}

func (l *lockedWriter) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.w.Write(p)
}

func say(format string, args ...any) {
	fmt.Fprintf(stdout, format+"\n", args...)
}

// watch says every tick how long a job has been running, until stopped.
func watch(what string) (stop func()) {
	start := time.Now()
	done := make(chan struct{})
	go func() {
		t := time.NewTicker(tick)
		defer t.Stop()
		for {
			select {
			case <-done:
				return
			case <-t.C:
				say("    ... %s, %d s", what, int(time.Since(start).Seconds()+0.5))
			}
		}
	}()
	return func() { close(done) }
}

// newCommand is a command with further environment that is asked to end when
// ctx ends, and killed if it has not ended soon after.
func newCommand(ctx context.Context, env []string, name string, args ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, name, args...)
	c.Env = append(os.Environ(), env...)
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) }
	c.WaitDelay = 5 * time.Second
	return c
}

// show runs a command whose output is worth seeing as it comes.
func show(ctx context.Context, env []string, name string, args ...string) error {
	c := newCommand(ctx, env, name, args...)
	c.Stdout, c.Stderr = stdout, stdout
	if err := c.Run(); err != nil {
		return failed(name, args, err)
	}
	return nil
}

// output runs a command for what it prints. Its complaints become the error.
func output(ctx context.Context, env []string, name string, args ...string) (string, error) {
	c := newCommand(ctx, env, name, args...)
	var complaint strings.Builder
	c.Stderr = &complaint
	out, err := c.Output()
	if err != nil {
		return string(out), fmt.Errorf("%w\n%s", failed(name, args, err), strings.TrimSpace(complaint.String()))
	}
	return string(out), nil
}

func failed(name string, args []string, err error) error {
	line := name + " " + strings.Join(args, " ")
	if len(line) > 200 {
		line = line[:200] + " ..."
	}
	return fmt.Errorf("%s: %w", line, err)
}
