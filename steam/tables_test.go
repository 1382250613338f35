package steam

import (
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"mvuke/steam/internal/rows"
)

func load(t *testing.T, name string) []rows.Row { return rows.Load(t, "..", name) }

func TestSaturationTables(t *testing.T) {
	for _, r := range load(t, "psat.csv") {
		p, err := Psat(Celsius(r.Num("t_C")))
		if err != nil {
			t.Fatal(err)
		}
		r.Near("p_kPa", p.KPa(), r.Num("reltolerance")*r.Num("p_kPa"))
	}
	for _, r := range load(t, "tsat.csv") {
		c, err := Tsat(Absolute(r.Num("p_kPa") * 1000))
		if err != nil {
			t.Fatal(err)
		}
		r.Near("t_C", float64(c), r.Num("tolerance"))
	}
	for _, r := range load(t, "formulation.csv") {
		p := psat(Celsius(r.Num("t_C"))).KPa()
		r.Near("p_if97_kPa", p, r.Num("tolerance"))
		r.Near("p_iapws95_kPa", p, 1.2e-4*p) // the choice of formulation matters less than the error allowed for it
	}
}

func TestOfficialRegion4Values(t *testing.T) {
	for _, r := range load(t, "region4.csv") {
		v := r.Num("input")
		got := 0.0
		if r.Text("direction") == "forward" {
			got = float64(psat(Celsius(v-273.15))) / 1e6
		} else {
			got = tsat(Absolute(v * 1e6)).Kelvin()
		}
		r.Near("value", got, r.Num("reltolerance")*r.Num("value"))
	}
}

func TestRoundTripAndMonotony(t *testing.T) {
	last := Absolute(0)
	for c := Celsius(1); c <= 180; c += 0.01 {
		p := psat(c)
		if p <= last {
			t.Fatalf("pressure does not rise at %v", c)
		}
		last = p
		if d := math.Abs(float64(tsat(p) - c)); d > 1e-9 {
			t.Fatalf("round trip at %v off by %g K", c, d)
		}
	}
}

func TestAtmosphere(t *testing.T) {
	for _, r := range load(t, "atmosphere.csv") {
		h := Metres(r.Num("height_m"))
		if r.Text("kind") == "geometric" {
			h = Geopotential(h)
			if got := float64(column(h, baseKelvin)) / 1000; true {
				r.Near("p_kPa", got, 0.01)
			}
			continue
		}
		p, err := Standard(h)
		if err != nil {
			t.Fatal(err)
		}
		r.Near("p_kPa", p.KPa(), max(r.Num("tolerance"), 0.005))
		if d := math.Abs(float64(HeightOf(p) - h)); d > 1e-6 {
			t.Errorf("height of %v is off by %g m", p, d)
		}
		if r.Has("t_boil_C") {
			c, _ := Tsat(p)
			r.Near("t_boil_C", float64(c), r.Num("tolerance_t"))
			r.Near("p_warm_kPa", float64(column(h, warmBase))/1000, r.Num("tolerance_column"))
			r.Near("p_cold_kPa", float64(column(h, coldBase))/1000, r.Num("tolerance_column"))
		}
	}
}

func exactSite(h float64) Ambient {
	p := column(Metres(h), baseKelvin)
	return Ambient{Nominal: p, Low: p, High: p}
}

func TestNeeds(t *testing.T) {
	for _, r := range load(t, "marks.csv") {
		need, err := Need(Celsius(r.Num("set_C")), exactSite(r.Num("height_m")))
		if err != nil {
			t.Fatal(err)
		}
		u, err := ParseUnit(r.Text("unit"))
		if err != nil {
			t.Fatal(err)
		}
		r.Near("gauge", u.Of(need), r.Num("tolerance"))
	}
	for _, r := range load(t, "rule.csv") {
		air := exactSite(r.Num("ft") * FeetToMetres)
		need, _ := Need(121.1, air)
		c, _ := Tsat(Absolute(Psi.Over(r.Num("rule_psi"))) + air.Nominal)
		r.Near("p_atm_kPa", air.Nominal.KPa(), r.Num("tolerance_p"))
		r.Near("needed_psi", Psi.Of(need), r.Num("tolerance_psi"))
		r.Near("t_C", float64(c), r.Num("tolerance"))
	}
	for _, r := range load(t, "reached.csv") {
		c, _ := Tsat(Absolute(r.Num("gauge_kPa")*1000) + exactSite(r.Num("height_m")).Nominal)
		r.Near("t_C", float64(c), r.Num("tolerance"))
	}
}

func TestUnitsAndClasses(t *testing.T) {
	for _, r := range load(t, "units.csv") {
		if u, err := ParseUnit(r.Text("unit")); err == nil {
			r.Near("pa", u.Pascals(), r.Num("reltolerance")*r.Num("pa"))
		}
	}
	for i, r := range load(t, "classes.csv") {
		r.Near("class", Classes[i], 0)
	}
	if _, err := ParseUnit("stone"); err == nil {
		t.Error("an unknown unit was accepted")
	}
}

// The worked bounds give the reading error in kPa and no air: the line is twice the
// reading error, and the column is the standard one.
func TestWorkedBounds(t *testing.T) {
	for _, r := range load(t, "bounds.csv") {
		h, dh, w := r.Num("height_m"), r.Num("dh_m"), r.Num("weather")
		air := exactSite(h)
		air.Low = column(Metres(h+dh), baseKelvin) * Absolute(1-w)
		air.High = column(Metres(h-dh), baseKelvin) * Absolute(1+w)
		g := Gauge{Unit: KPa, Span: r.Num("span_kPa"), Line: 2 * r.Num("read_kPa"), Class: r.Num("class_pct"), Standing: Vouched}
		need, _ := Need(121.1, exactSite(h))
		b, err := g.bounds(need.KPa(), air, 0)
		if err != nil {
			t.Fatal(err)
		}
		tol := r.Num("tolerance")
		r.Near("t_low_C", float64(b.Low), tol)
		r.Near("t_nom_C", float64(b.Nominal), tol)
		r.Near("t_high_C", float64(b.High), tol)
	}
}

// The reference library (GPL, run as a separate program where it is installed) is
// asked for the same line at many temperatures.
func TestAgainstReferenceLibrary(t *testing.T) {
	const script = `
from iapws.iapws97 import _PSat_T, _TSat_P
for i in range(10, 1800):
    T = i/10.0 + 273.15
    p = _PSat_T(T)
    print(repr(T), repr(p), repr(_TSat_P(p)))
`
	out, err := exec.Command("/usr/bin/python3", "-c", script).Output()
	if err != nil {
		t.Skipf("the reference library python3-iapws is not installed here: %v", err)
	}
	n := 0
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		k, _ := strconv.ParseFloat(f[0], 64)
		p, _ := strconv.ParseFloat(f[1], 64)
		back, _ := strconv.ParseFloat(f[2], 64)
		if got := float64(psat(Celsius(k-273.15))) / 1e6; math.Abs(got/p-1) > 1e-9 {
			t.Fatalf("%v K: got %v, reference %v", k, got, p)
		}
		if got := tsat(Absolute(p * 1e6)).Kelvin(); math.Abs(got-back) > 1e-9 {
			t.Fatalf("%v MPa: got %v, reference %v", p, got, back)
		}
		n++
	}
	if n < 1700 {
		t.Fatalf("only %d points compared", n)
	}
}

func BenchmarkPsat(b *testing.B) {
	for b.Loop() {
		_, _ = Psat(121.1)
	}
}

func BenchmarkTsat(b *testing.B) {
	for b.Loop() {
		_, _ = Tsat(205685)
	}
}
