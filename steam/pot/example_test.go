package pot_test

import (
	"fmt"

	"mvuke/steam/pot"
)

// How long the vent must last: a weak fire drives the air out slowly. Free space only; packs need longer.
func ExamplePurge() {
	for _, watts := range []float64{1000, 2500} {
		rate, _ := pot.SteamRate(watts, 7, 25, 100)
		s, _ := pot.Purge(rate, 0.0375, 100, 0.01)
		fmt.Printf("%.0f W: %.2f g/s, %.1f min\n", watts, rate*1000, s/60)
	}
	// Output:
	// 1000 W: 0.21 g/s, 8.2 min
	// 2500 W: 0.88 g/s, 2.0 min
}

// Why a pack comes out wet, and how much longer it should dry over embers.
func ExampleDry() {
	d, _ := pot.Dry(pot.Stuff{Mass: 2, Heat: pot.HeatCotton}, pot.Stuff{Mass: 8, Heat: pot.HeatSteel, Runs: true}, 20, 121.1, 100, 60, 100, 0)
	fmt.Printf("%s: %.1f %% of the cloth is water, %.0f minutes more\n", d.Said, 100*d.Share, d.Extra/60)
	// Output: borderline: 1.9 % of the cloth is water, 7 minutes more
}

// A pot that is heated shut with all its air: the needle is up, and the steam is not hot.
func ExamplePot() {
	p, _ := pot.New(pot.Reference(), pot.Start{T: 20, Water: 2.5, Air: true})
	p.Hands = pot.Hands{Valve: 0, Fire: 2500}
	for p.State().Over < 104e3 {
		p.Advance(1)
	}
	st := p.State()
	fmt.Printf("%.0f kPa, %.0f degC; pure steam would be 121\n", st.Over.KPa(), float64(st.T))
	// Output: 104 kPa, 94 degC; pure steam would be 121
}

// What the fire needs of wood, both ranges at their worst and best.
func ExampleFuel_Needed() {
	kg := pot.Wood.Needed(6.2e6)
	fmt.Printf("%.1f to %.1f kg\n", kg.Low, kg.High)
	// Output: 1.9 to 4.8 kg
}
