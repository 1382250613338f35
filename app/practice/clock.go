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

// longestStep is the longest real time that counts between two looks: a machine that slept, or a window that hung,
// must not let hours of fire go by at once.
const longestStep = 30 * time.Second

func (c *Clock) look() model.Moment {
	now := c.real.Now()
	gone := min(max(now.Elapsed-c.at.Elapsed, 0), longestStep)
	if now.Boot != c.at.Boot {
		gone = 0
	}
	run := time.Duration(float64(gone) * c.rate)
	c.at = now
	c.now = model.Moment{Wall: c.now.Wall.Add(run), Boot: c.now.Boot, Elapsed: c.now.Elapsed + run}
	return c.now
}

// SetRate changes how fast it runs, 0 (stands) to Fastest.
func (c *Clock) SetRate(rate float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.look()
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
