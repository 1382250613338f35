package steam

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// flat stands in for package lethality: every minute counts one.
func flat(Celsius, Celsius) float64 { return 1 }

func request(h Metres, g Gauge) Request {
	air, err := Site{Height: h, Within: MapWithin, Weather: TropicsWeather}.Air()
	if err != nil {
		panic(err)
	}
	return Request{Gauge: g, Air: air, Set: 121, Minutes: 30, PerMinute: flat, LeastDose: 12}
}

func psi(line float64) Gauge {
	return Gauge{Unit: Psi, Span: 30, Line: line, Class: 0, Standing: Vouched}
}

func TestCase001Case002Needs(t *testing.T) {
	for h, want := range map[Metres][2]float64{0: {103.7, 15.0}, 1200: {117.3, 17.0}, 1800: {123.5, 17.9},
		2400: {129.4, 18.8}, 3200: {136.7, 19.8}, 4000: {143.4, 20.8}, 500: {109.6, 15.9}} {
		p, err := Make(request(h, psi(1)))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.Need.KPa()-want[0]) > 0.3 || math.Abs(p.NeedShown-want[1]) > 0.1 {
			t.Errorf("%v m: need %.2f kPa, %.2f psi; want %v", h, p.Need.KPa(), p.NeedShown, want)
		}
		if p.NeedShown < Psi.Of(p.Need) {
			t.Errorf("%v m: the need was rounded down", h)
		}
	}
	for u, want := range map[Unit]float64{Bar: 1.037, Kgf: 1.058, MPa: 0.1037} {
		if got := u.Of(Over(103700)); math.Abs(got-want) > want*0.003 {
			t.Errorf("103.7 kPa is %v %s", got, u)
		}
	}
}

func TestCase012CoarseDial(t *testing.T) {
	p, err := Make(request(1800, psi(2)))
	if err != nil || p.Restart != 18 || p.Mark != 19 {
		t.Errorf("2 psi lines at 1800 m: restart %v mark %v, %v", p.Restart, p.Mark, err)
	}
	bar := Gauge{Unit: Bar, Span: 4, Line: 0.1, Class: 0, Standing: Vouched}
	if p, err = Make(request(1800, bar)); err != nil || p.Restart != 1.25 {
		t.Errorf("0.1 bar lines at 1800 m: restart %v, %v", p.Restart, err)
	}
}

func TestCase013DialsByTheirRest(t *testing.T) {
	air, _ := Site{Height: 1800, Within: MapWithin, Weather: TropicsWeather}.Air()
	g := Gauge{Unit: KPa, Span: 400, Line: 10, Class: 1.6, Standing: Compared}
	for rest, want := range map[float64]struct {
		kind Rest
		at   float64
	}{0: {RestZero, 0}, 81: {RestAbsolute, 121.0}, 101: {RestShifted, 117.8}, 91: {RestUnbounded, 0}, 20: {RestUnbounded, 0}, -9: {RestUnbounded, 0}} {
		kind, off := g.AtRest(rest, air)
		if kind != want.kind {
			t.Errorf("rest at %v: %v, want %v", rest, kind, want.kind)
		}
		if want.at != 0 {
			dial := g
			dial.Offset = off
			if c := tsat(Absolute(dial.True(205)) + air.Nominal); math.Abs(float64(c)-want.at) > 0.15 {
				t.Errorf("205 on a dial resting at %v is %.2f degC, want %v", rest, c, want.at)
			}
		}
	}
}

func TestCase015LimitBelowNeed(t *testing.T) {
	r := request(4000, psi(1))
	r.Limit = Psi.Over(20)
	p, err := Make(r)
	if err != nil || p.Refused == nil || p.Refused.Code != LimitBelowNeed || p.Mark != 0 || p.Minutes != 0 {
		t.Fatalf("a mark above the limit: %+v, %v", p, err)
	}
	if math.Abs(float64(p.Refused.At)-120.1) > 0.1 || len(p.Refused.Tonight) == 0 {
		t.Errorf("refusal %+v", p.Refused)
	}
}

func TestCase016FixedWeight(t *testing.T) {
	for h, want := range map[Metres]float64{1650: 118.0, 2400: 116.7} {
		r := request(h, psi(1))
		r.Limit = Psi.Over(15)
		p, err := Make(r)
		if err != nil || p.Refused == nil || math.Abs(float64(p.Refused.At)-want) > 0.1 {
			t.Errorf("%v m: %+v, %v", h, p.Refused, err)
		}
	}
}

func TestErrorLeavesTheMarkWhenThereIsNoRoom(t *testing.T) {
	g := Gauge{Unit: Psi, Span: 30, Line: 1, Class: 4, Standing: Compared}
	r := request(1800, g)
	wide, _ := Make(r)
	r.Limit = Psi.Over(19)
	tight, err := Make(r)
	if err != nil || wide.ErrorLeftOut || !tight.ErrorLeftOut || tight.Mark >= wide.Mark || tight.Mark > 18.5 {
		t.Errorf("wide %+v tight %+v %v", wide, tight, err)
	}
	r.Limit = Psi.Over(18)
	if none, err := Make(r); err != nil || none.Refused == nil || none.Refused.Code != NoRoom {
		t.Errorf("no room: %+v %v", none.Refused, err)
	}
}

func TestMinutesGrowAndAreRefused(t *testing.T) {
	r := request(1800, psi(1))
	r.PerMinute = func(Celsius, Celsius) float64 { return 0.3 }
	if p, _ := Make(r); p.Minutes != 40 {
		t.Errorf("12 at 0.3 a minute: %d minutes", p.Minutes)
	}
	for _, rate := range []float64{0.1, 0} {
		r.PerMinute = func(Celsius, Celsius) float64 { return rate }
		if p, _ := Make(r); p.Refused == nil || p.Refused.Code != TooLong {
			t.Errorf("rate %v was planned: %+v", rate, p)
		}
	}
}

func TestCorrectionsReplaceTheClass(t *testing.T) {
	g := Gauge{Unit: KPa, Span: 400, Line: 10, Class: 2.5, Standing: Compared,
		Corrections: []Correction{{100, 10}, {150, 14}}, ReferenceError: 2}
	if got := g.True(125).KPa(); math.Abs(got-113) > 1e-9 {
		t.Errorf("true %v", got)
	}
	if got := g.Shown(KPa.Over(113)); math.Abs(got-125) > 1e-6 {
		t.Errorf("shown %v", got)
	}
	if g.Error().KPa() != 2 {
		t.Errorf("error %v", g.Error())
	}
	g.Standing = Overdue // the days run out, the dial does not get better: what it showed too much stays, and the class comes on top
	if g.Error().KPa() != 16 || math.Abs(g.True(125).KPa()-113) > 1e-9 {
		t.Errorf("overdue: error %v, true %v", g.Error().KPa(), g.True(125).KPa())
	}
	g.Corrections = []Correction{{100, -10}, {150, -14}}
	if g.True(125).KPa() != 125 {
		t.Errorf("an overdue comparison lowers the mark: %v", g.True(125).KPa())
	}
}

func TestBarometerAndForecast(t *testing.T) {
	s := Site{Height: 1800, Barometer: 81500, BarometerLimit: BarometerLimit}
	if a, err := s.Air(); err != nil || a.Nominal != 81500 || a.Weather != 0 {
		t.Errorf("%+v %v", a, err)
	}
	s.Barometer = 101300
	if _, err := s.Air(); err == nil {
		t.Error("a pressure reduced to sea level was taken for the station's")
	}
}

// No dial, however bad, may lead to a mark below the need or above the limit.
func TestPlanNeverUnderNeedNorOverLimit(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		u := rapid.SampledFrom(DialUnits).Draw(r, "unit")
		g := Gauge{Unit: u, Span: rapid.Float64Range(1.2e5, 6e5).Draw(r, "span") / u.Pascals(),
			Class: rapid.SampledFrom(append([]float64{-1}, Classes...)).Draw(r, "class"), Standing: Compared}
		g.Line = u.UsualLine() * rapid.SampledFrom([]float64{1, 2}).Draw(r, "lines")
		q := request(Metres(rapid.Float64Range(-100, 5000).Draw(r, "height")), g)
		q.Limit = Over(rapid.Float64Range(0.9e5, 3e5).Draw(r, "limit"))
		p, err := Make(q)
		if err != nil || p.Refused != nil {
			return
		}
		if u.Of(p.Need) > p.Restart+1e-9 || p.Restart > p.Mark || p.Mark >= p.Limit || u.Over(p.Limit) > q.Limit+1 || p.Mark > g.Span {
			r.Fatalf("%+v", p)
		}
	})
}
