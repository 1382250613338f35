package steam

import (
	"math"
	"testing"
)

func TestAirModels(t *testing.T) {
	for _, r := range load(t, "air.csv") {
		p := Absolute(Psi.Over(r.Num("gauge_psi"))) + seaLevel
		left := r.Num("fraction_left")
		cold, err := Undischarged(p, seaLevel, left, 20, false)
		if err != nil {
			t.Fatal(err)
		}
		r.Near("t_unwarmed_C", float64(cold), r.Num("tolerance_computed"))
		r.Near("t_table_C", float64(cold), r.Num("tolerance")) // the classical table, from memory: a regression of this function only
		warm, err := Undischarged(p, seaLevel, left, 20, true)
		if err != nil {
			t.Fatal(err)
		}
		if r.Has("t_warmed_C") {
			r.Near("t_warmed_C", float64(warm), r.Num("tolerance_computed"))
		}
		if left > 0 && warm >= cold {
			t.Errorf("warmed air leaves %v, cold air %v", warm, cold)
		}
		back, err := AirOfOriginal(cold, p)
		if err != nil {
			t.Fatal(err)
		}
		r.Near("fraction_left", back, 1e-6)
	}
	for _, r := range load(t, "air_share.csv") {
		c, err := WithAir(205685, r.Num("share"))
		if err != nil {
			t.Fatal(err)
		}
		r.Near("t_C", float64(c), r.Num("tolerance"))
		y, _ := AirShare(c, 205685)
		r.Near("share", y, 1e-9)
	}
	for _, r := range load(t, "shut.csv") {
		p, err := NeverVented(Celsius(r.Num("t_C")), 20, seaLevel)
		if err != nil {
			t.Fatal(err)
		}
		r.Near("gauge_kPa", p.KPa(), r.Num("tolerance"))
		r.Near("pure_kPa", max(0, (psat(Celsius(r.Num("t_C")))-seaLevel).KPa()), r.Num("tolerance"))
	}
}

// Two instruments at their worst: suspected only where nothing else is left.
func TestAirFromAThermometer(t *testing.T) {
	air := exactSite(0)
	air.Low, air.High = air.Nominal*0.985, air.Nominal*1.015
	coarse := Gauge{Unit: KPa, Span: 400, Line: 10, Class: 2.5, Standing: Vouched}
	good := Gauge{Unit: KPa, Span: 160, Line: 2, Class: 0.6, Standing: Vouched}
	for _, c := range []struct {
		name  string
		g     Gauge
		t     Celsius
		off   float64
		want  AirSaid
		share float64 // nominal, from steam.md's formula y = 1 - psat/p: computed
	}{
		{"half the air at 15 psi", coarse, 112, 0.5, AirSuspected, 0.253},
		{"3.3 K low, coarse dial", coarse, 117.78, 0.5, AirUnsure, 0.098},
		{"3.3 K low, fine dial", good, 117.78, 0.5, AirSuspected, 0.098},
		{"as the gauge says, coarse dial", coarse, 121, 0.5, AirUnsure, 0},
		{"hotter than the gauge says, fine dial", good, 123, 0.2, AirLittle, -0.066},
	} {
		e, err := c.g.EstimateAir(103.6, c.t, c.off, air)
		if err != nil {
			t.Fatal(err)
		}
		if e.Said != c.want || math.Abs(e.Nominal-c.share) > 0.006 || !(e.Low <= e.Nominal && e.Nominal <= e.High) {
			t.Errorf("%s: %+v", c.name, e)
		}
	}
	for off := 0.0; off < 3; off += 0.25 { // a worse instrument never sharpens the word
		e, _ := good.EstimateAir(103.6, 117.78, off, air)
		w, _ := good.EstimateAir(103.6, 117.78, off+0.25, air)
		if w.Low > e.Low || w.High < e.High || (e.Said == AirUnsure && w.Said != AirUnsure) {
			t.Errorf("%+v, then %+v", e, w)
		}
	}
	if _, err := good.EstimateAir(103.6, 117, -1, air); err == nil {
		t.Error("a negative error was taken")
	}
}

func TestThermometerFromInsideAPack(t *testing.T) {
	for _, c := range []struct {
		t, off float64
		want   PackSaid
	}{{121, 0.5, PackReached}, {120.5, 0.5, PackReached}, {120.4, 0.5, PackFailed}, {112, 2, PackFailed}} {
		if got, err := FromPack(Celsius(c.t), 121, c.off); err != nil || got != c.want {
			t.Errorf("%v: %v %v", c, got, err)
		}
	}
	if _, err := FromPack(Celsius(math.NaN()), 121, 0.5); err == nil {
		t.Error("no figure was taken for one")
	}
}
