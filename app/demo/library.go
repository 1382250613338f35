package demo

import (
	"math/rand/v2"
	"sync"

	"mvuke/app/practice"
	"mvuke/model"
	"mvuke/model/assess"
	"mvuke/steam"
	"mvuke/steam/pot"
)

// A library of simulated cycles, for registers too large to burn each cycle of: the practice simulator's logs, one in eight with a mishap, each judged as the register would judge it.

// burnt is one cycle of the library.
type burnt struct {
	plan   model.FrozenPlan
	steps  []model.Step
	looks  []model.Reading
	judged model.Judged
}

const libraryOf = 48

// library burns the cycles once in a run of the program; the same cycles each time.
var library = sync.OnceValues(func() (out []burnt, err error) {
	rng := rand.New(rand.NewPCG(48, 1))
	mishaps := []pot.Mishap{pot.WetWoodGiven, pot.FireDies, pot.CalledAway}
	for i := range libraryOf {
		s := practice.Setup{Seed: rng.Uint64(), Site: steam.Site{Height: steam.Metres(1860), Within: 10}, Limit: 180e3, Hand: pot.Steady,
			Gauge: steam.Gauge{Unit: "kPa", Span: 250, Line: 5, Class: 2.5, Standing: steam.Vouched}}
		if i%8 == 7 {
			s.Mishaps = []pot.Mishap{mishaps[i/8%len(mishaps)]}
		}
		sim, err := practice.Simulate(s)
		if err != nil {
			return nil, err
		}
		r, err := assess.Judge(sim.Input())
		if err != nil {
			return nil, err
		}
		out = append(out, burnt{sim.Planned.Frozen, sim.Steps, sim.Readings, r.Judged})
	}
	return out, nil
})
