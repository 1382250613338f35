package home

import (
	"time"

	"mvuke/model"
)

// SystemClock reads the machine's clocks.
type SystemClock struct{}

// Now looks at them once.
func (SystemClock) Now() model.Moment {
	id, elapsed := boot()
	return model.Moment{Wall: time.Now(), Boot: id, Elapsed: elapsed}
}
