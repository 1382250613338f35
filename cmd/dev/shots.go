package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// sizes are the screens the program is made for: the small laptop it must
// fit, and the common one.
var sizes = []string{"1024x600", "1366x768"}

func shots(ctx context.Context, args []string) error {
	fs := flag.NewFlagSet("shots", flag.ContinueOnError)
	out := fs.String("out", "out/shots", "the folder for the pictures")
	if err := parse(fs, args); err != nil {
		return err
	}
	if err := setup(ctx, needShots); err != nil {
		return err
	}
	return takeShots(ctx, *out)
}

// takeShots has the program walk through its own screens at each size. A size
// has a folder of its own, so that pictures keep one name and can be laid
// side by side.
func takeShots(ctx context.Context, out string) error {
	bin, err := build(ctx)
	if err != nil {
		return err
	}
	for _, size := range sizes {
		dir, err := filepath.Abs(filepath.Join(out, size))
		if err != nil {
			return err
		}
		n, err := shootSize(ctx, bin, dir, size)
		if err != nil {
			return fmt.Errorf("pictures at %s: %w", size, err)
		}
		say("%d pictures at %s in %s", n, size, dir)
	}
	return nil
}

// shootSize counts the pictures made since it began, for older ones may lie
// in the folder.
func shootSize(ctx context.Context, bin, dir, size string) (int, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return 0, err
	}
	home, err := os.MkdirTemp("", "mvuke-shots")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(home)
	s, err := openScreen(ctx, size)
	if err != nil {
		return 0, err
	}
	defer s.close()

	ctx, cancel := context.WithTimeout(ctx, 10*time.Minute)
	defer cancel()
	defer watch("pictures at " + size)()
	// File times are coarser than the clock; a second's grace for them.
	start := time.Now().Add(-time.Second)
	if err := show(ctx, s.env(home), bin, "--shots", dir, "--size", size); err != nil {
		return 0, fmt.Errorf("the program did not get through its screens; what it said is above: %w", err)
	}
	n := 0
	pictures, err := filepath.Glob(filepath.Join(dir, "*.png"))
	if err != nil {
		return 0, err
	}
	for _, p := range pictures {
		if fi, err := os.Stat(p); err == nil && fi.ModTime().After(start) {
			n++
		}
	}
	if n == 0 {
		return 0, fmt.Errorf("the program ended well but left no picture in %s; see that its option --shots saves PNG files there", dir)
	}
	return n, nil
}
