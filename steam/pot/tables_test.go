package pot

import (
	"math"
	"testing"

	"mvuke/steam"
	"mvuke/steam/internal/rows"
)

func load(t *testing.T, name string) []rows.Row { return rows.Load(t, "../..", name) }

func boilingAt(t *testing.T, h float64) (steam.Celsius, steam.Absolute) {
	t.Helper()
	p, err := steam.Standard(steam.Metres(h))
	if err != nil {
		t.Fatal(err)
	}
	c, err := steam.Tsat(p)
	if err != nil {
		t.Fatal(err)
	}
	return c, p
}

func ok[T any](v T, err error) func(t *testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// The table that the simulator asks stays within its stated error of the formulation, all along.
func TestTableOfSaturation(t *testing.T) {
	table := pieces()
	for c := coldest; c < hottest; c += 0.037 {
		w, x := lookUp(table, c), exact(c)
		for i, got := range []float64{w.p, w.rho, w.vl, w.ul, w.uv} {
			if math.Abs(got/x[i]-1) > tableError {
				t.Fatalf("%g degC, property %d: %.10g, exact %.10g", c, i, got, x[i])
			}
		}
		s := ok(steam.Saturation(steam.Celsius(c)))(t)
		if math.Abs(w.dp/s.Slope()-1) > 2e-4 || math.Abs(w.latent()/s.Latent()-1) > 1e-7 {
			t.Fatalf("%g degC: slope %g, %g; latent %g, %g", c, w.dp, s.Slope(), w.latent(), s.Latent())
		}
	}
}

func TestFlow(t *testing.T) {
	for _, r := range load(t, "flow.csv") {
		p := r.Num("p_kPa") * 1000
		if r.Text("kind") == "napier" {
			r.Near("flux_kg_m2s", Napier(p), r.Num("tolerance")+0.0005*r.Num("flux_kg_m2s")) // 190.5 against 51.5 in the other units
			continue
		}
		k := r.Num("k")
		r.Near("critical_ratio", CriticalRatio(k), r.Num("tolerance_ratio"))
		s := ok(steam.Saturation(ok(steam.Tsat(steam.Absolute(p)))(t)))(t)
		r.Near("flux_kg_m2s", Flux(p, 0, 1/s.Vapour.V, k), r.Num("tolerance"))
		if sub := Flux(p, 0.9*p, 1/s.Vapour.V, k); sub >= Flux(p, 0, 1/s.Vapour.V, k) || sub <= 0 {
			t.Errorf("subcritical %g", sub)
		}
		if d := math.Abs(quick(p, 0.8*p, 1/s.Vapour.V, k)/Flux(p, 0.8*p, 1/s.Vapour.V, k) - 1); d > 1e-12 {
			t.Errorf("the quick form differs by %g", d)
		}
	}
	for _, r := range load(t, "relief.csv") {
		w, p := r.Num("W_kg_h")/3600, r.Num("p_kPa")*1000
		r.Near("area_by_hand_mm2", ReliefArea(w, p, r.Num("Kd"), r.Num("KSH"))*1e6, r.Num("tolerance_by_hand"))
		r.Near("area_m2", ReliefArea(w, p, r.Num("Kd"), r.Num("KSH")), r.Num("tolerance"))
		r.Near("metric_flux", Napier(1), r.Num("tolerance_metric"))
	}
	if Flux(1e5, 1e5, 0.6, KWet) != 0 || Flux(9e4, 1e5, 0.6, KWet) != 0 {
		t.Error("steam flows uphill")
	}
}

func TestFlashOfHotWater(t *testing.T) {
	for _, r := range load(t, "flash.csv") {
		a, b := steam.Celsius(r.Num("from_C")), steam.Celsius(r.Num("to_C"))
		r.Near("by_enthalpy", ok(Flash(a, b))(t), r.Num("tolerance"))
		r.Near("differential", ok(FlashSlowly(a, b))(t), r.Num("tolerance_differential"))
	}
}

func TestFuel(t *testing.T) {
	for _, r := range load(t, "ncv.csv") {
		v := ok(NetValue(r.Num("ncv0")*1e6, r.Num("moisture_pct_wet")/100))(t) / 1e6
		r.Near("ncv_formula", v, r.Num("tolerance_formula"))
		r.Near("ncv_published", v, r.Num("tolerance"))
	}
	if math.Abs(WetBasis(0.3)-0.2308) > 5e-5 {
		t.Error(WetBasis(0.3))
	}
	if _, err := NetValue(19e6, 30); err == nil {
		t.Error("30 was taken for a share")
	}
	for _, r := range load(t, "materials.csv") {
		if c, ok := map[string]float64{"stainless": HeatSteel, "aluminium": HeatAluminium, "cotton": HeatCotton, "glass": HeatGlass}[r.Text("name")]; ok {
			r.Near("c_kJ_kgK", c/1000, r.Num("tolerance"))
		}
	}
}

// capacity of the reference pot with w kg of water, J/K.
func capacity(w, t float64) float64 {
	s, _ := steam.Saturation(steam.Celsius(t))
	return w*s.Liquid.Cp + 13*HeatAluminium + 8*HeatSteel + 2*HeatCotton
}

func TestWarmingAndOvershoot(t *testing.T) {
	c := capacity(2, 121.1)
	for _, r := range load(t, "warmup.csv") {
		p := r.Num("useful_W")
		rise := Overshoot(p, 7, 25, 121.1, 60, c) // what a minute brings
		r.Near("K_per_min", rise, r.Num("tolerance"))
		r.Near("overshoot_K", rise, r.Num("tolerance_overshoot_K"))
		hot := ok(steam.Psat(steam.Celsius(121.1 + rise)))(t)
		r.Near("overshoot_kPa", (hot - ok(steam.Psat(121.1))(t)).KPa(), r.Num("tolerance_overshoot_kPa"))
		if got := Useful(rise/60, 7, 25, 121.1, c); math.Abs(got-p) > 1e-6*p {
			t.Errorf("the rise of a %g W fire tells %g W", p, got)
		}
	}
	for _, r := range load(t, "times.csv") {
		p := r.Num("useful_W")
		boil, _ := boilingAt(t, r.Num("height_m"))
		// in pieces, since the heat of water moves with temperature and the steam space takes heat too
		stretch := func(water float64, from, to steam.Celsius, space float64) (s float64) {
			const n = 200
			for i := range n {
				a := from + (to-from)*steam.Celsius(i)/n
				b := from + (to-from)*steam.Celsius(i+1)/n
				w := lookUp(pieces(), float64(a+b)/2)
				s += ok(Warmup(p, 7, 25, capacity(water, float64(a+b)/2)+space*w.latent()*w.drho, a, b))(t)
			}
			return s / 60
		}
		r.Near("integrated_boiling_min", stretch(2.5, 20, boil, 0), r.Num("tolerance_integrated"))
		rate := ok(SteamRate(p, 7, 25, boil))(t)
		r.Near("integrated_set_min", stretch(2.5-600*rate, boil, 121.1, 0.0375), r.Num("tolerance_integrated"))
		// the printed figures come from the heat over the power at the mean loss
		r.Near("to_boiling_min", stretch(2.5, 20, boil, 0), 0.02*r.Num("to_boiling_min"))
	}
	if _, err := Warmup(600, 7, 25, c, 100, 121); err == nil {
		t.Error("a fire that can never reach it was given a time")
	}
}

func TestPurge(t *testing.T) {
	boil, _ := boilingAt(t, 0)
	for _, r := range load(t, "dilution.csv") {
		rate := ok(SteamRate(r.Num("useful_W"), 7, 25, boil))(t)
		r.Near("steam_g_s", rate*1000, r.Num("tolerance_steam"))
		r.Near("time_constant_s", ok(Purge(rate, 0.0375, boil, 1/math.E))(t), r.Num("tolerance_tau"))
		r.Near("minutes_99", ok(Purge(rate, 0.0375, boil, 0.01))(t)/60, r.Num("tolerance"))
	}
	if _, err := Purge(0, 0.0375, boil, 0.01); err == nil {
		t.Error("no steam drove the air out")
	}
}
