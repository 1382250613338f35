//go:build realwindow

package main

import (
	"os"
	"strconv"
	"time"

	"mvuke/app/home"
	"mvuke/model"
)

// fastClock runs sixty times as fast from a fixed moment on, so that a test of the real window
// need not sit through a whole cycle. It is compiled into that test's program only: a
// program in a clinic has no way to make time run.
type fastClock struct {
	base time.Time
	real home.SystemClock
}

const fast = 60

// Now looks at the stretched clocks.
func (c fastClock) Now() model.Moment {
	m := c.real.Now()
	gone := time.Since(c.base)
	m.Wall = c.base.Add(gone * fast)
	m.Elapsed += gone * (fast - 1)
	return m
}

func init() {
	if at, err := strconv.ParseInt(os.Getenv("MVUKE_FAST_FROM"), 10, 64); err == nil {
		clock = fastClock{base: time.Unix(at, 0)}
	}
}
