package model

import "time"

// ClockState says how far the wall time of an entry is to be believed.
type ClockState uint8

// Clock states; stored.
const (
	ClockGood     ClockState = 0
	ClockDoubtful ClockState = 1 // nobody has said what day it is
	ClockSaid     ClockState = 2 // set by a person's word in this start
)

// Moment is one look at a device's clocks.
type Moment struct {
	Wall    time.Time
	Boot    ID            // this run of the machine
	Elapsed time.Duration // since it started, sleep counted
}

// Clock is where the time comes from, so that tests can bend it.
type Clock interface{ Now() Moment }

// Random is where ids and keys come from.
type Random interface{ Read([]byte) (int, error) }

// Since is a duration between two moments: by the running time where both belong to one boot, proven
// if the wall clock says the same within a minute (a step of the wall, or a sleep that the
// running time did not count, is not). Across boots only the wall is left, and nothing is
// proven: a machine without a battery clock goes on where it was switched off.
func Since(a, b Moment) (d time.Duration, proven bool) {
	wall := b.Wall.Sub(a.Wall)
	if a.Boot != b.Boot {
		return max(wall, 0), false
	}
	run := b.Elapsed - a.Elapsed
	return max(run, 0), run >= 0 && (wall-run).Abs() <= time.Minute
}

// Doubt says whether a wall time can be right: not before the program was
// built, not over five minutes before our newest entry, not over ninety days
// after it.
func Doubt(wall, built, newest time.Time) bool {
	return wall.Before(built) ||
		(!newest.IsZero() && (wall.Before(newest.Add(-5*time.Minute)) || wall.After(newest.Add(90*24*time.Hour))))
}
