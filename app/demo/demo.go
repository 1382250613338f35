// Package demo is an invented district: one clinic at 1860 m with one pot, for
// trying the program and for pictures. No person, place or pot in it is real.
package demo

import (
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// Clock is a clock that is moved by hand.
type Clock struct {
	Wall    time.Time
	Boot    model.ID
	Elapsed time.Duration
}

// NewClock starts at a wall time on a machine just started.
func NewClock(wall time.Time) *Clock {
	return &Clock{Wall: wall, Boot: model.ID{1}, Elapsed: time.Minute}
}

// Now looks at it.
func (c *Clock) Now() model.Moment {
	return model.Moment{Wall: c.Wall, Boot: c.Boot, Elapsed: c.Elapsed}
}

// Pass lets time go by.
func (c *Clock) Pass(d time.Duration) { c.Wall, c.Elapsed = c.Wall.Add(d), c.Elapsed+d }

// Reboot starts the machine again after a time off.
func (c *Clock) Reboot(off time.Duration) {
	c.Wall, c.Elapsed = c.Wall.Add(off), time.Second
	c.Boot[15]++
}

// Answers set the clinic up.
func Answers(language string) work.Answers {
	return work.Answers{
		Language: language,
		Site:     model.Site{Name: "Ndovari", HeightM: 1860, How: model.ByMap, WithinM: 50, WeatherPermille: 15},
		Pot:      model.Sterilizer{Name: "1", LimitPa: 180_000, ValvePa: 175_000, LeastWaterML: 2500},
		Gauge:    model.GaugeLooks{Serial: "2207", Unit: "kPa", SpanMilli: 250_000, LineMilli: 10_000, ClassMilli: 2500},
		Person:   model.Person{Name: "Sister Asha"},
	}
}

// Packs are a small load.
func Packs(n int, first int) []model.LoadPack {
	names := []string{"delivery", "dressing", "suture", "dressing", "forceps", "cord"}
	var out []model.LoadPack
	for i := range n {
		out = append(out, model.LoadPack{Label: "ND-A" + four(first+i), Set: names[i%len(names)], Tape: true, Strip: true})
	}
	return out
}

func four(n int) string {
	b := []byte("0000")
	for i := 3; i >= 0 && n > 0; i-- {
		b[i], n = byte('0'+n%10), n/10
	}
	return string(b)
}
