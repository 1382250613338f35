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

// Since is a duration between two moments: by the running time where both belong to one
// boot (then the smaller of it and the wall's, so that a step of the wall clock
// credits nothing), else by the wall, and then it is not proven.
func Since(a, b Moment) (d time.Duration, proven bool) {
	wall := b.Wall.Sub(a.Wall)
	if a.Boot != b.Boot {
		return max(wall, 0), false
	}
	run := b.Elapsed - a.Elapsed
	if wall >= 0 && wall < run {
		run = wall
	}
	return max(run, 0), true
}

// Doubt says whether a wall time can be right: not before the program was
// built, not over five minutes before our newest entry, not over ninety days
// after it.
func Doubt(wall, built, newest time.Time) bool {
	return wall.Before(built) ||
		(!newest.IsZero() && (wall.Before(newest.Add(-5*time.Minute)) || wall.After(newest.Add(90*24*time.Hour))))
}
