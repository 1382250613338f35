package pot

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"mvuke/steam"
)

// trialOf is a well-run cycle of the reference pot at sea level on a good dial.
func trialOf(seed uint64) Trial {
	t := Trial{Seed: seed, Body: Reference(), Start: Start{T: 25, Water: 2.6, Air: true}, Fuel: Wood, Wood: 1.5,
		Dial: Dial{Unit: steam.KPa, Span: 250, Line: 5}, Mark: 115, Restart: 105, Limit: 160, Minutes: 30, Vent: 10, Hand: Steady, Set: 121}
	t.Fuel.Efficiency = Range{0.20, 0.30}
	t.Body.Ambient = 101325
	return t
}

// toldBy is what the register would tell of it.
func toldBy(t Trial, o Outcome, number int64) Told {
	nan := math.NaN()
	x := Told{Number: number, Ambient: t.Body.Ambient, Water: t.Start.Water, Lit: nan, VentStart: nan, VentEnd: nan, Drawn: nan, SteamOut: nan, Zero: nan, Left: nan}
	for _, e := range o.Events {
		switch e.Code {
		case Lit:
			x.Lit = e.Minute
		case VentStart:
			x.VentStart = e.Minute
		case VentEnd:
			x.VentEnd = e.Minute
		case Drawn:
			x.Drawn = e.Minute
		case SteamOut:
			x.SteamOut = e.Minute
		case Zero:
			x.Zero = e.Minute
		case Tamed:
			x.Tamed = append(x.Tamed, e.Minute)
		case Low:
			x.Died = append(x.Died, e.Minute)
		}
	}
	for _, l := range o.Looks {
		c, _ := steam.Tsat(steam.Absolute(t.Dial.Unit.Over(l.Needle)) + t.Body.Ambient)
		x.Looks = append(x.Looks, Seen{l.Minute, c})
	}
	x.Line, _ = steam.Tsat(steam.Absolute(t.Dial.Unit.Over(t.Restart)) + t.Body.Ambient)
	return x
}

func toldCycles(t testing.TB, n int, change func(i int, t *Trial)) (out []Told) {
	t.Helper()
	for i := range n {
		tr := trialOf(uint64(i + 1))
		if change != nil {
			change(i, &tr)
		}
		o, err := Run(tr)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, toldBy(tr, o, int64(i+1)))
	}
	return out
}

func TestNothingIsLearntFromTwoCycles(t *testing.T) {
	two := toldCycles(t, 2, nil)
	if k := Learn(two); k.Warm.Known() || k.Vent.Known() || k.Exhaust.Known() || len(k.Rise.From) != 0 {
		t.Errorf("%+v", k)
	}
	if c := Changes(append(two, two[0])); c != nil {
		t.Errorf("a change was seen after two earlier cycles: %v", c)
	}
	if k := Learn(nil); k.Warm.Known() {
		t.Error("learnt from nothing")
	}
}

// What is learnt from logs alone, with readings to half a line, lies near what the simulated pot really has.
func TestLearntFiguresAreNearTheTruth(t *testing.T) {
	k := Learn(toldCycles(t, 12, nil))
	vent := exhaustOpening * Reference().Valve
	for _, c := range []struct {
		name       string
		f          Figure
		true, near float64
	}{
		{"opening", k.Vent, vent, CapacitySpread * vent},
		{"exhaust", k.Exhaust, 6.8, 0.7},
		{"lag", k.Lag, 60, 45},
		{"warm", k.Warm, strongFire, CapacitySpread * strongFire},
	} {
		if !c.f.Known() || math.Abs(c.f.Mid-c.true) > c.near || c.f.Low > c.f.Mid || c.f.High < c.f.Mid {
			t.Errorf("%s: %+v, true %g", c.name, c.f, c.true)
		}
		if len(c.f.From) > 12 || len(c.f.From) < LeastCycles {
			t.Errorf("%s: from %v", c.name, c.f.From)
		}
	}
}

func TestAChangedPotIsSeen(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(t *Trial)
		want   Change
	}{
		{"valve half blocked", func(t *Trial) { t.Body.Valve *= 0.45 }, SlowerExhaust},
		{"wet wood", func(t *Trial) { t.Mishaps = []Mishap{WetWoodGiven} }, SlowerBoil},
		{"as ever", func(t *Trial) {}, ""},
	} {
		cycles := toldCycles(t, 9, func(i int, tr *Trial) {
			if i == 8 {
				c.change(tr)
			}
		})
		got := Changes(cycles)
		found := c.want == ""
		for _, x := range got {
			found = found || x.Change == c.want || (c.want == SlowerBoil && x.Change == SlowerRise) // the same cause, seen later
			if x.Seen <= 0 || x.Usual <= 0 {
				t.Errorf("%+v", x)
			}
		}
		if !found || (c.want == "" && len(got) > 0) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// A pot that runs as ever is seldom said to have changed.
func TestFewFalseChanges(t *testing.T) {
	cycles := toldCycles(t, 60, nil)
	n := 0
	for i := 5; i <= len(cycles); i++ {
		n += len(Changes(cycles[:i]))
	}
	if n > 3 {
		t.Errorf("%d false changes in %d cycles", n, len(cycles))
	}
}

func TestLearningIsQuick(t *testing.T) {
	cycles := toldCycles(t, 12, nil)
	rng := rand.New(rand.NewPCG(1, 2))
	var many []Told
	for i := range 200 {
		x := cycles[rng.IntN(len(cycles))]
		x.Number = int64(i + 1)
		many = append(many, x)
	}
	begin := time.Now()
	k := Learn(many)
	t.Logf("200 cycles learnt in %v", time.Since(begin))
	if !k.Vent.Known() {
		t.Error("nothing learnt")
	}
}

func BenchmarkLearn200(b *testing.B) {
	cycles := toldCycles(b, 10, nil)
	for len(cycles) < 200 {
		cycles = append(cycles, cycles[:10]...)
	}
	for b.Loop() {
		Learn(cycles)
	}
}

// BenchmarkLearn200Baseline asks the saturation line a million times.
func BenchmarkLearn200Baseline(b *testing.B) {
	for b.Loop() {
		for range 1_000_000 {
			_, _ = steam.Psat(121.1)
		}
	}
}
