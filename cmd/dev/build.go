package main

import (
	"context"
	"fmt"
	"os"
	"time"
)

// build makes bin/mvuke, or finds in a second or two that it is up to date.
func build(ctx context.Context) (string, error) {
	bin, err := binary()
	if err != nil {
		return "", err
	}
	if _, err := os.Stat("cmd/mvuke"); err != nil {
		return "", fmt.Errorf("there is no folder cmd/mvuke in this checkout, so there is no desktop program to build; fetch it whole and start again")
	}
	if _, err := os.Stat(bin); err != nil {
		say("building the desktop program; the first build takes about five minutes")
	}
	start := time.Now()
	defer watch("building")()
	if err := show(ctx, []string{cgo(true)}, "go", goArgs("build", "-o", bin, "./cmd/mvuke")...); err != nil {
		return "", fmt.Errorf("the desktop program was not built; what the compiler said is above: %w", err)
	}
	if took := time.Since(start); took > tick {
		say("built in %d s", int(took.Seconds()+0.5))
	}
	return bin, nil
}
