package lethality

import (
	"math"
	"testing"

	"mvuke/steam"
	"mvuke/steam/internal/rows"
)

const fahrenheit250 steam.Celsius = 121.0 + 1.0/9 // 250 degF, the reference of the envelope tables

func load(t *testing.T, name string) []rows.Row { return rows.Load(t, "../..", name) }

func TestRates(t *testing.T) {
	for _, r := range load(t, "rates.csv") {
		r.Near("rate", Plain(steam.Celsius(r.Num("t_C")), steam.Celsius(r.Num("tref_C"))), r.Num("tolerance"))
	}
	for _, r := range load(t, "guards.csv") {
		c := steam.Celsius(r.Num("t_C"))
		tol := r.Num("tolerance")
		r.Near("z10", Plain(c, fahrenheit250), tol)
		r.Near("arrhenius", Arrhenius(c, fahrenheit250), tol)
		if c < fahrenheit250 {
			r.Near("z6", Sharp(c, fahrenheit250), tol)
		}
	}
	for _, r := range load(t, "f0pairs.csv") {
		r.Near("f0", Plain(steam.Celsius(r.Num("t_C")), ReferenceF0)*r.Num("minutes"), r.Num("tolerance"))
	}
	for _, r := range load(t, "kept.csv") {
		need, _ := steam.Need(121.1, steam.Ambient{Nominal: 101325})
		p, _ := steam.Standard(steam.Metres(r.Num("height_m")))
		c, _ := steam.Tsat(steam.Absolute(need) + p)
		r.Near("t_C", float64(c), r.Num("tolerance_t"))
		r.Near("rate", Plain(c, fahrenheit250), r.Num("tolerance_rate"))
		r.Near("f0_30min", 30*Plain(c, fahrenheit250), r.Num("tolerance"))
		r.Near("minutes_equal", 30*Plain(121.1, fahrenheit250)/Plain(c, fahrenheit250), r.Num("tolerance_min"))
	}
}

func TestWorkedDose(t *testing.T) {
	var ps []Point
	var sum, trapezoid float64
	for i, r := range load(t, "dose.csv") {
		ps = append(ps, Point{r.Num("minute"), steam.Celsius(r.Num("t_C"))})
		sum += Plain(ps[i].T, ReferenceF0)
		if i > 0 {
			trapezoid += (Plain(ps[i-1].T, ReferenceF0) + Plain(ps[i].T, ReferenceF0)) / 2
		}
	}
	near(t, "sum", sum, 5.7329, 6e-5)
	near(t, "trapezoid", trapezoid, 5.7046, 6e-5)
	near(t, "exact", Sum(ps, ReferenceF0, 0), 5.5755, 6e-5)
}

func level(low float64, gap float64) []Reading {
	var rs []Reading
	for m := 0.0; m <= 30; m += gap {
		rs = append(rs, Reading{Minute: m, Low: steam.Celsius(low)})
	}
	return rs
}

func TestEnvelopes(t *testing.T) {
	for file, low := range map[string]float64{"envelope.csv": 121.1, "envelope_low.csv": 119.3} {
		for _, r := range load(t, file) {
			lim := Limits{Cool: r.Num("r_cool"), Heat: r.Num("r_heat"), Reach: 10}
			r.Near("f0", Guaranteed(level(low, r.Num("gap_min")), lim, PlainCredit(fahrenheit250)), r.Num("tolerance"))
		}
	}
}

func TestWorkedTrace(t *testing.T) {
	lim := Limits{Cool: 1.5, Heat: 4, Reach: 10}
	var rs []Reading
	var interpolated float64
	credit := PlainCredit(fahrenheit250)
	air := steam.Ambient{Nominal: mustStandard(t, 1500)}
	for _, r := range load(t, "trace.csv") {
		at := func(minute, gauge string) Reading {
			c, err := steam.Tsat(steam.Absolute(r.Num(gauge)*1000) + air.Nominal)
			if err != nil {
				t.Fatal(err)
			}
			return Reading{Minute: r.Num(minute), Low: c}
		}
		a, b := at("from_min", "g_from_kPa"), at("to_min", "g_to_kPa")
		r.Near("t1_C", float64(a.Low), r.Num("tolerance_t"))
		piece := credit(a.Low, b.Low, b.Minute-a.Minute)
		r.Near("interpolated", piece, r.Num("tolerance"))
		r.Near("guaranteed", Guaranteed([]Reading{a, b}, lim, credit), r.Num("tolerance"))
		interpolated += piece
		if len(rs) == 0 {
			rs = append(rs, a)
		}
		rs = append(rs, b)
	}
	near(t, "interpolated", interpolated, 34.447, 0.005)
	near(t, "guaranteed", Guaranteed(rs, lim, credit), 19.419, 0.005)
}

func mustStandard(t *testing.T, h steam.Metres) steam.Absolute {
	p, err := steam.Standard(h)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// 30 minutes at 15 psi kept at every height, in minutes at 121 degC (computed, IF97 and ISA).
func TestCase003FifteenPsiAloft(t *testing.T) {
	for h, want := range map[steam.Metres]float64{0: 29.7, 1200: 18.0, 1800: 14.2, 2400: 11.3, 3200: 8.4} {
		c, _ := steam.Tsat(steam.Absolute(steam.Psi.Over(15)) + mustStandard(t, h))
		near(t, "E121", 30*Plain(c, Reference121), want, 0.2)
	}
	near(t, "case 20: F0 of 30 minutes at 121.0", 30*Plain(121, ReferenceF0), 29.32, 0.005)
}

// A fixed weight of 15 psi: what the plain and the guarded rate ask for (case 16).
func TestCase016MinutesByEachModel(t *testing.T) {
	for h, want := range map[steam.Metres][2]float64{1650: {59.8, 95}, 2400: {79.9, 153}} {
		c, _ := steam.Tsat(steam.Absolute(steam.Psi.Over(15)) + mustStandard(t, h))
		near(t, "plain", 30/Plain(c, Reference121), want[0], 0.2)
		// the guarded figure asks for the dose of 30 minutes at 121.0 by the guarded rate itself
		near(t, "guarded", 30*Guarded(121)/Guarded(c), want[1], 1)
	}
}

func TestPerMinuteLiesBetweenLineAndMark(t *testing.T) {
	rate := PerMinute(5, DefaultLimits)
	if got := rate(120.4, 118.9); got < Guarded(118.9) || got > Guarded(120.4) || math.IsNaN(got) {
		t.Errorf("%v not between %v and %v", got, Guarded(118.9), Guarded(120.4))
	}
}
