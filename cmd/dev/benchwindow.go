package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

const (
	windowRuns  = 5
	seedEntries = "200000" // some ten years of a busy clinic
)

// A startup is what the program reports of itself with --report.
type startup struct {
	FirstFrameMs   float64 `json:"firstFrameMs"`
	RSSKB          float64 `json:"rssKB"`
	IdleCPUPercent float64 `json:"idleCPUPercent"`
}

// A windowReport sets the program on a large register beside an empty window
// of the same toolkit: the difference is the program's own doing.
type windowReport struct {
	Empty, Register, Difference *startup `json:",omitempty"`
	Skipped                     string   `json:",omitempty"`
}

// benchWindow measures what can be measured here. What cannot is skipped with
// the reason, so that the other numbers are not lost.
func benchWindow(ctx context.Context) (windowReport, error) {
	r, err := measureWindow(ctx)
	if err != nil && ctx.Err() == nil {
		r.Skipped, err = err.Error(), nil
	}
	return r, err
}

func measureWindow(ctx context.Context) (r windowReport, err error) {
	if runtime.GOOS != "linux" {
		return r, errors.New("the window is measured on a screen in memory, which is for Linux")
	}
	if err := setup(ctx, needShots); err != nil {
		if err == errShown {
			err = errors.New("system packages are missing; the command that installs them is above")
		}
		return r, err
	}
	bin, err := build(ctx)
	if err != nil {
		return r, err
	}
	home, err := os.MkdirTemp("", "mvuke-bench")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(home)
	s, err := openScreen(ctx, "1366x768")
	if err != nil {
		return r, err
	}
	defer s.close()

	say("\nmeasuring the window; some minutes")
	defer watch("measuring")()
	if r.Empty, err = measureStarts(ctx, s.env(home), bin, "--empty-window"); err != nil {
		return r, fmt.Errorf("the empty window: %w", err)
	}
	data := filepath.Join(home, "data")
	if err := seed(ctx, s.env(home), data); err != nil {
		return r, err
	}
	if r.Register, err = measureStarts(ctx, s.env(home), bin, "--data", data); err != nil {
		return r, fmt.Errorf("the window with %s entries: %w", seedEntries, err)
	}
	r.Difference = &startup{
		r.Register.FirstFrameMs - r.Empty.FirstFrameMs,
		r.Register.RSSKB - r.Empty.RSSKB,
		r.Register.IdleCPUPercent - r.Empty.IdleCPUPercent,
	}
	return r, nil
}

// seed fills a register, with the same state folder as the program will have,
// since what lies there vouches for the register.
func seed(ctx context.Context, env []string, data string) error {
	if _, err := os.Stat("cmd/mvukectl"); err != nil {
		return errors.New("there is no folder cmd/mvukectl in this checkout, which makes the large register to measure")
	}
	args := goArgs("run", "./cmd/mvukectl", "seed", "--data", data, "--entries", seedEntries)
	if out, err := output(ctx, append(env, cgo(false)), "go", args...); err != nil {
		return fmt.Errorf("the large register was not made: %w\n%s", err, out)
	}
	return nil
}

// measureStarts takes medians of several starts.
func measureStarts(ctx context.Context, env []string, bin string, args ...string) (*startup, error) {
	args = append(args, "--quit-after", "3s", "--report")
	var frame, rss, cpu []float64
	for range windowRuns {
		one, cancel := context.WithTimeout(ctx, 2*time.Minute)
		out, err := output(one, env, bin, args...)
		cancel()
		if err != nil {
			return nil, err
		}
		v, err := parseStart(out)
		if err != nil {
			return nil, fmt.Errorf("%s %s: %w", bin, strings.Join(args, " "), err)
		}
		frame, rss, cpu = append(frame, v.FirstFrameMs), append(rss, v.RSSKB), append(cpu, v.IdleCPUPercent)
	}
	return &startup{median(frame), median(rss), median(cpu)}, nil
}

// parseStart finds the one line of JSON among whatever else was printed.
func parseStart(out string) (startup, error) {
	for line := range strings.Lines(out) {
		var v startup
		if strings.HasPrefix(line, "{") && json.Unmarshal([]byte(line), &v) == nil && v.FirstFrameMs > 0 {
			return v, nil
		}
	}
	return startup{}, fmt.Errorf("it printed no line of JSON with a firstFrameMs, which --report asks for, but: %q", out)
}

func windowTable(r windowReport) {
	say("\n%-26s %14s %10s %12s", "window, median of 5", "first frame ms", "memory KB", "idle CPU %")
	for _, row := range []struct {
		name string
		v    *startup
	}{{"empty window (baseline)", r.Empty}, {"with " + seedEntries + " entries", r.Register}, {"difference", r.Difference}} {
		if row.v != nil {
			say("%-26s %14.0f %10.0f %12.2f", row.name, row.v.FirstFrameMs, row.v.RSSKB, row.v.IdleCPUPercent)
		}
	}
	if r.Skipped != "" {
		say("skipped: %s", r.Skipped)
	}
}
