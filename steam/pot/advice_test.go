package pot

import (
	"math"
	"testing"

	"mvuke/steam"
)

func now() Now {
	n := math.NaN()
	line, _ := steam.Tsat(steam.Absolute(105e3) + 101325)
	mark, _ := steam.Tsat(steam.Absolute(115e3) + 101325)
	limit, _ := steam.Tsat(steam.Absolute(160e3) + 101325)
	return Now{Ambient: 101325, Lit: 0, VentStart: n, VentEnd: n, Drawn: n, SteamOut: n, Zero: n, Opened: n,
		Line: line, Mark: mark, Limit: limit, Minutes: 30, Vent: 10, Water: 2.6, Ask: 5, Eye: 0.4, Died: n, Blows: n, Tamed: n, Fed: n}
}

func has(as []Advice, code Code) (Advice, bool) {
	for _, a := range as {
		if a.Code == code {
			return a, true
		}
	}
	return Advice{}, false
}

func TestAdviceByPhase(t *testing.T) {
	hold := func(minute float64, looks ...Seen) Now {
		n := now()
		n.VentStart, n.VentEnd, n.Looks, n.Minute = 20, 30, looks, minute
		return n
	}
	for _, c := range []struct {
		name   string
		n      Now
		want   Code
		urgent bool
	}{
		{"rising fast, near the mark", hold(38.5, Seen{36, 112}, Seen{38, 120.6}), TameNow, true},
		{"rising, far from the mark", hold(35, Seen{33, 105}, Seen{35, 108}), TameIn, false},
		{"at the mark and level", hold(50, Seen{45, 122.4}, Seen{50, 122.4}), HoldsWell, false},
		{"falling towards the line", hold(50, Seen{46, 123}, Seen{50, 121.6}), FeedNow, true},
		{"under the line and falling", hold(50, Seen{46, 121.6}, Seen{50, 120.5}), FeedNow, true},
		{"falling slowly, far above", hold(50, Seen{45, 124.2}, Seen{50, 123.6}), ToLine, false},
		{"up in no time", hold(32, Seen{31, 122}), EarlyRise, true},
		{"water for a while", hold(40, Seen{38, 121.5}), WaterMinutes, false},
	} {
		a, ok := has(Advise(c.n, Known{}), c.want)
		if !ok || a.Urgent != c.urgent || a.Own {
			t.Errorf("%s: %+v", c.name, Advise(c.n, Known{}))
		}
		for _, x := range a.Args {
			if math.IsNaN(x) || x < 0 || x > 1000 {
				t.Errorf("%s: %v", c.name, a)
			}
		}
	}
	weak := now()
	weak.VentStart, weak.Minute = 75, 85 // an hour and a quarter until steam
	if a, ok := has(Advise(weak, Known{}), VentLonger); !ok || !a.Urgent || a.Args[0] < 2 {
		t.Errorf("a weak fire: %+v", Advise(weak, Known{}))
	}
	strong := now()
	strong.VentStart, strong.Minute = 15, 20
	if _, ok := has(Advise(strong, Known{}), VentLonger); ok {
		t.Error("a strong fire was told to vent longer than the rule")
	}
	own := Known{Exhaust: Figure{6, 5.5, 6.5, []int64{1, 2, 3}}}
	out := hold(80)
	out.Drawn, out.SteamOut, out.Minute = 70, 71, 82
	if a, ok := has(Advise(out, own), DoNotOpen); !ok || !a.Urgent || !a.Own {
		t.Errorf("slower than its history: %+v", Advise(out, own))
	}
	out.Minute = 74
	if a, ok := has(Advise(out, own), ExhaustIn); !ok || math.Abs(a.Args[0]-3) > 0.01 {
		t.Errorf("%+v", Advise(out, own))
	}
	dry := out
	dry.Zero, dry.Opened = 78, 79
	for minute, want := range map[float64]Code{79.5: DryWet, 130: DryLikely} {
		dry.Minute = minute
		if as := Advise(dry, own); len(as) != 1 || as[0].Code != want {
			t.Errorf("drying at %v: %+v", minute, as)
		}
	}
	low := hold(40, Seen{38, 121.5})
	low.Water, low.VentEnd = 1.1, 34
	if a, ok := has(Advise(low, Known{}), WaterMinutes); !ok || !a.Urgent {
		t.Errorf("1.1 kg at the start: %+v", Advise(low, Known{}))
	}
	low.Looks = []Seen{{38, 119.5}} // it must begin again
	if _, ok := has(Advise(low, Known{}), WaterShort); !ok {
		t.Error("there is no water to begin again")
	}
}

// Above the limit there is one advice, whatever has moved and however old the look is; and advice never says what it cannot know.
func TestAdviceNeverSoothes(t *testing.T) {
	n := now()
	n.VentStart, n.VentEnd, n.Minute = 17, 27, 60
	over := float64(n.Limit)
	for name, looks := range map[string][]Seen{
		"steady":         {{50, steam.Celsius(over + 2)}, {59, steam.Celsius(over + 2)}},
		"falling":        {{57, steam.Celsius(over + 3)}, {59.5, steam.Celsius(over + 0.5)}},
		"the first look": {{59.5, steam.Celsius(over + 1)}},
		"an old look":    {{30, steam.Celsius(over + 1)}},
	} {
		n.Looks = looks
		as := Advise(n, Known{})
		if as[0].Code != OverLimit || !as[0].Urgent {
			t.Errorf("%s, above the limit: %+v", name, as)
		}
		for _, bad := range []Code{HoldsWell, FeedNow, ToLine, ToMark} {
			if _, ok := has(as, bad); ok {
				t.Errorf("%s, above the limit: %s", name, bad)
			}
		}
	}
	n.Looks = []Seen{{50, 122.5}, {55, 122.5}}
	n.Died = 56 // said to be low since
	if a := Advise(n, Known{})[0]; a.Code != FeedNow {
		t.Errorf("the fire is low: %+v", a)
	}
	n.Died = math.NaN()
	n.Minute = 75
	if _, ok := has(Advise(n, Known{}), HoldsWell); ok {
		t.Error("twenty minutes without a look, and it holds well")
	}
	if a, ok := has(Advise(n, Known{}), LookNow); !ok || !a.Urgent {
		t.Error("nobody is told to look")
	}
	n.Looks, n.Minute = nil, 90
	if _, ok := has(Advise(n, Known{}), LookNow); !ok {
		t.Error("an hour shut and nobody looked")
	}
	under := now()
	under.VentStart, under.VentEnd, under.Drawn, under.SteamOut, under.Opened, under.Minute = 17, 27, 70, 71, 72, 120
	if as := Advise(under, Known{}); len(as) > 0 {
		t.Errorf("opened without zero: %+v", as)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e18, -1e18} {
		wild := now()
		wild.VentStart, wild.VentEnd, wild.Looks = 17, 27, []Seen{{30, 121}, {v, 122}, {45, steam.Celsius(v)}}
		wild.Minute, wild.Lit = v, v
		for _, a := range Advise(wild, Known{}) {
			for _, x := range a.Args {
				if math.IsNaN(x) || x < 0 || x > longestSaid {
					t.Errorf("%v: %+v", v, a)
				}
			}
		}
	}
}

// One strange cycle among few does not make the next strange one usual.
func TestOutliersAreNotLearntAsUsual(t *testing.T) {
	told := func(n int64, exhaust float64) Told {
		return Told{Number: n, Ambient: 82000, Water: 2.6, Lit: 0, VentStart: 17, VentEnd: 27, Drawn: 75, SteamOut: 76, Zero: 76 + exhaust, Left: math.NaN(),
			Looks: []Seen{{38, 121.9}, {43, 123}, {60, 123}, {72, 123}}, Line: 121.5}
	}
	cycles := []Told{told(1, 6), told(2, 6), told(3, 60)}
	n := now()
	n.Drawn, n.SteamOut, n.Minute = 75, 76, 76+15
	if a, ok := has(Advise(n, Learn(cycles)), DoNotOpen); !ok || !a.Urgent {
		t.Error("fifteen minutes, six are usual, and nothing is said")
	}
	if c := Changes(append(cycles, told(4, 20))); len(c) == 0 || c[0].Change != SlowerExhaust {
		t.Errorf("%+v", c)
	}
	odd := told(5, 6)
	odd.Looks = []Seen{{-3, 122}}
	odd.VentEnd, odd.SteamOut = -10, -1
	_ = Changes(append(cycles, odd)) // must not stumble over minutes that cannot be
}

// A hand that does nothing but what is advised, with a look every two and a half minutes, keeps the needle
// between restart line and limit for nearly all of the hold.
func TestFollowingTheAdviceHoldsTheNeedle(t *testing.T) {
	for seed := uint64(1); seed <= 6; seed++ {
		tr := trialOf(seed)
		rng := newRand(seed)
		p := ok(New(tr.Body, tr.Start))(t)
		s := SceneOf(p, Light(tr.Fuel, 1.6, rng), tr.Dial, 121, nil)
		n := now()
		wait := 0.0
		good, all := 0, 0
		for s.Minutes < 120 && (math.IsNaN(n.VentEnd) || s.Minutes < n.VentEnd+45) {
			s.Pass(30)
			n.Minute = s.Minutes
			switch {
			case math.IsNaN(n.VentStart):
				if s.Fire.Full() < 1900 && s.Fire.Fresh < 0.4 {
					s.Fire.Feed(0.35)
				}
				if s.Jet() == JetSteady {
					n.VentStart = s.Minutes
				}
				continue
			case math.IsNaN(n.VentEnd):
				if s.Minutes > n.VentStart+10 {
					n.VentEnd, s.Opening = s.Minutes, 0
				}
				continue
			}
			st := s.Pot.State()
			if all > 0 || st.T >= n.Line {
				all++
				if st.T >= n.Line && st.T <= n.Limit {
					good++
				}
			}
			if s.Minutes < wait {
				continue
			}
			wait = s.Minutes + 2.5
			seen, _ := steam.Tsat(steam.Absolute(tr.Dial.Unit.Over(tr.Dial.Read(st.Over, rng))) + 101325)
			n.Looks = append(n.Looks, Seen{s.Minutes, seen})
			for _, a := range Advise(n, Known{}) {
				if a.Urgent {
					wait = s.Minutes + 1.5 // and looks again sooner
				}
				switch { // a flap has four places: open, half, a little, shut
				case a.Code == TameNow && a.Urgent:
					s.Fire.Draught = 0.05
				case a.Code == TameNow:
					s.Fire.Draught = 0.25
				case a.Code == FeedNow && a.Urgent:
					s.Fire.Draught = 1
				case a.Code == HoldsWell, a.Code == ToLine, a.Code == ToMark && s.Fire.Draught < 0.45:
					s.Fire.Draught = 0.45
				}
				if a.Code == FeedNow && s.Fire.Full() < 1600 {
					s.Fire.Feed(0.35)
				}
			}
		}
		if share := float64(good) / float64(all); all < 60 || share < 0.95 {
			t.Errorf("seed %d: within the lines in %.0f %% of %d looks", seed, 100*share, all)
		}
	}
}
