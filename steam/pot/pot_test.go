package pot

import (
	"math"
	"testing"

	"mvuke/steam"
)

func body(load string) Body {
	b := Reference()
	b.ReliefAt, b.Packs = 0, Packs{}
	switch load {
	case "full":
		b.Load = 0.5 * (8*HeatSteel + 2*HeatCotton)
	case "low":
		b.Metal *= 0.5
		b.Load = 0.3 * (8*HeatSteel + 2*HeatCotton)
	}
	return b
}

func exhaustMinutes(t *testing.T, b Body, start, water float64, finer int) (minutes, gone float64) {
	t.Helper()
	p := ok(New(b, Start{T: steam.Celsius(start), Water: water}))(t)
	p.finer, p.Hands.Valve = finer, 1
	s, last := 0.0, p.State().Over
	for last > 1000 && s < 7200 {
		p.Advance(0.5)
		s += 0.5
		now := p.State().Over
		if now <= 1000 { // straight between the two half seconds
			s -= 0.5 * float64((1000-now)/(last-now))
		}
		last = now
	}
	if e, w := p.Books(); e > 1e-9 || w > 1e-9 {
		t.Errorf("the books are off by %.1e (energy), %.1e (water)", e, w)
	}
	return s / 60, p.State().Gone * 1000
}

// The steam of the reference pot, by the bore of the vent, the height, the load and the start. Five to six
// minutes for a 40-litre pot is common practice, no source.
func TestExhaust(t *testing.T) {
	for _, r := range load(t, "exhaust.csv") {
		b := body(r.Text("load"))
		_, b.Ambient = boilingAt(t, r.Num("height_m"))
		b.Valve, b.K = r.Num("cda_mm2")*1e-6, r.Num("k")
		got, gone := exhaustMinutes(t, b, r.Num("start_C"), r.Num("water_kg"), 1)
		r.Near("minutes", got, r.Num("tolerance"))
		if r.Has("vented_g") {
			r.Near("vented_g", gone, 0.02*r.Num("vented_g"))
		}
	}
	b := body("full")
	b.Valve = exhaustOpening * Reference().Valve
	if m, _ := exhaustMinutes(t, b, 121.1, 2, 1); m < 5 || m > 6 {
		t.Errorf("a quarter turn of the simulated pot lets the steam out in %.2f min", m)
	}
}

// Half the step changes nothing that anybody would see.
func TestStepHalving(t *testing.T) {
	b := body("full")
	b.Valve = 2.44e-6
	one, _ := exhaustMinutes(t, b, 121.1, 2, 1)
	two, _ := exhaustMinutes(t, b, 121.1, 2, 2)
	if math.Abs(one/two-1) > 1e-5 {
		t.Errorf("%.8f and %.8f minutes", one, two)
	}
	var ends [2]State
	for i, finer := range []int{1, 2} {
		p := cycleOf(t, Reference(), finer)
		ends[i] = p.State()
	}
	a, c := ends[0], ends[1]
	if math.Abs(float64(a.T-c.T)) > 1e-4 || math.Abs(a.Gone-c.Gone) > 1e-5 || math.Abs(a.F0/c.F0-1) > 1e-4 {
		t.Errorf("%+v\n%+v", a, c)
	}
}

// cycleOf runs a whole cycle of fixed hands: 30 minutes heating and vent, rise, hold with the safety valve
// blowing at the end, exhaust, and an hour of cooling with the valve shut.
func cycleOf(t *testing.T, b Body, finer int) *Pot {
	t.Helper()
	p := ok(New(b, Start{T: 20, Water: 2.6, Air: true}))(t)
	p.finer = finer
	for _, x := range []struct {
		h Hands
		s float64
	}{{Hands{1, 2500}, 1900}, {Hands{0, 2500}, 360}, {Hands{0, 800}, 1500}, {Hands{0, 3000}, 700}, {Hands{0.12, 0}, 500}, {Hands{0, 0}, 3600}} {
		p.Hands = x.h
		p.Advance(x.s)
		if e, w := p.Books(); e > 1e-6 || w > 1e-6 || p.Dry {
			t.Fatalf("after %v: books off by %.1e, %.1e, dry %v", x, e, w, p.Dry)
		}
	}
	return p
}

// What a pot does, in words: the safety valve keeps the pressure near its setting and costs
// water; closed with all its air the needle comes up too soon; a pot that cooled shut holds a vacuum.
func TestThePotAsABody(t *testing.T) {
	b := Reference()
	p := ok(New(b, Start{T: 121, Water: 2}))(t)
	p.Hands.Fire = 4000
	p.Advance(1500)
	st := p.State()
	if st.Over < b.ReliefAt || st.Over > b.ReliefAt*11/10 || st.Relief == 0 {
		t.Errorf("safety valve: %+v", st)
	}
	rate := ok(SteamRate(4000, b.Loss, b.Around, st.T))(t)
	if math.Abs(st.Relief/rate-1) > 0.03 {
		t.Errorf("it blows %.5f kg/s, the fire makes %.5f", st.Relief, rate)
	}

	shut := ok(New(b, Start{T: 20, Water: 2.5, Air: true}))(t)
	shut.Hands.Fire = 2500
	for shut.State().T < 100 {
		shut.Advance(5)
	}
	never := ok(steam.NeverVented(shut.State().T, 20, b.Ambient))(t)
	if got := shut.State().Over; math.Abs(float64(got/never-1)) > 0.06 { // the water has grown and the vapour in the first air counts
		t.Errorf("shut with its air: %v Pa at 100 degC, closed form %v", got, never)
	}

	cold := cycleOf(t, b, 1)
	if st := cold.State(); st.Over > -20e3 {
		t.Errorf("after an hour shut it should hold a vacuum: %+v", st)
	}
	cold.Hands.Valve = 1
	cold.Advance(60)
	if st := cold.State(); st.Over < -500 || st.Air < 0.1 {
		t.Errorf("the open valve lets air in: %+v", st)
	}
}

// The vent drives the air out as the closed form says, and packs keep theirs longer.
func TestVentInTheBody(t *testing.T) {
	p := ok(New(Reference(), Start{T: 20, Water: 2.5, Air: true}))(t)
	p.Hands = Hands{Valve: 1, Fire: 2500}
	for p.State().Air > 0.02 {
		p.Advance(1)
	}
	a := p.State()
	p.Advance(30)
	b := p.State()
	tau := ok(Purge((b.Gone-a.Gone)/30, 0.0370, a.T, 1/math.E))(t)
	if got := 30 / math.Log(a.Air/b.Air); math.Abs(got/tau-1) > 0.03 {
		t.Errorf("time constant %.1f s, closed form %.1f s", got, tau)
	}
	if b.PackAir <= b.Air {
		t.Error("packs should keep air longer")
	}
	p.Advance(900)
	if st := p.State(); st.Air > 1e-6 || st.PackAir > 1e-3 {
		t.Errorf("after fifteen minutes: %+v", st)
	}
}

func TestBadPots(t *testing.T) {
	if _, err := New(Body{}, Start{T: 20, Water: 2}); err == nil {
		t.Error("a pot of nothing")
	}
	for _, s := range []Start{{T: 20, Water: 0.1}, {T: 20, Water: 50}, {T: 300, Water: 2}, {T: steam.Celsius(math.NaN()), Water: 2}, {T: 20, Water: math.Inf(1)}} {
		if _, err := New(Reference(), s); err == nil {
			t.Errorf("%+v was taken", s)
		}
	}
	dry := ok(New(Reference(), Start{T: 99, Water: 0.4}))(t)
	dry.Hands = Hands{Valve: 1, Fire: 4000}
	dry.Advance(3600)
	if st := dry.State(); !dry.Dry || math.IsNaN(float64(st.T)) || st.Water < 0.1 {
		t.Errorf("boiled dry: %v %+v", dry.Dry, st)
	}
}

func BenchmarkThreeHours(b *testing.B) {
	for b.Loop() {
		p, _ := New(Reference(), Start{T: 20, Water: 2.6, Air: true})
		p.Hands = Hands{Valve: 1, Fire: 2500}
		p.Advance(1900)
		p.Hands = Hands{Fire: 720}
		p.Advance(10800 - 1900 - 900)
		p.Hands = Hands{Valve: 0.12}
		p.Advance(900)
	}
}

// BenchmarkThreeHoursBaseline asks the saturation line as often as the simulator asks its table in three hours.
func BenchmarkThreeHoursBaseline(b *testing.B) {
	for b.Loop() {
		for range 4 * (4*2800 + 8000) {
			_, _ = steam.Psat(121.1)
		}
	}
}
