package practice

import (
	"sync"
	"time"

	"mvuke/model"
)

// Clock is the time in a practice: it stands, runs as the real one does, or up to Fastest times as fast.
type Clock struct {
	mu   sync.Mutex
	real model.Clock
	at   model.Moment // of the real clock, when the rate was last set
	now  model.Moment // of the practice at that moment
	rate float64
}

// Fastest is how much faster than life a practice can burn.
const Fastest = 60

// NewClock starts, standing still, where the real clock is.
func NewClock(real model.Clock) *Clock {
	m := real.Now()
	return &Clock{real: real, at: m, now: m}
}

// Now looks at it.
func (c *Clock) Now() model.Moment {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.look()
}

func (c *Clock) look() model.Moment {
	gone := c.real.Now().Elapsed - c.at.Elapsed
	if gone < 0 { // the machine slept, or another clock: the practice stood
		gone = 0
	}
	run := time.Duration(float64(gone) * c.rate)
	return model.Moment{Wall: c.now.Wall.Add(run), Boot: c.now.Boot, Elapsed: c.now.Elapsed + run}
}

// SetRate changes how fast it runs, 0 (stands) to Fastest.
func (c *Clock) SetRate(rate float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now, c.at = c.look(), c.real.Now()
	c.rate = min(max(rate, 0), Fastest)
}

// Rate is how fast it runs.
func (c *Clock) Rate() float64 {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.rate
}

// Skip lets time go by at once.
func (c *Clock) Skip(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now.Wall, c.now.Elapsed = c.now.Wall.Add(d), c.now.Elapsed+d
}
