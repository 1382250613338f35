package steam_test

import (
	"fmt"

	"mvuke/steam"
)

// The temperature that saturated steam has under a pressure, and the other way round (IAPWS R7-97, region 4).
func ExampleTsat() {
	p, _ := steam.Psat(121)
	t, _ := steam.Tsat(p)
	fmt.Printf("%.2f kPa, %.1f degC\n", p.KPa(), float64(t))
	_, err := steam.Tsat(0)
	fmt.Println(err)
	// Output:
	// 205.04 kPa, 121.0 degC
	// pressure 0 Pa is outside 657.0880491178972 to 1.0026345688120945e+06 Pa
}

// Both phases at the boiling point: what a kilogram of steam brings to a cold load (IAPWS R7-97, regions 1 and 2).
func ExampleSaturation() {
	s, _ := steam.Saturation(121.1)
	fmt.Printf("steam %.4f m3/kg, heat of condensation %.0f kJ/kg\n", s.Vapour.V, s.Latent()/1000)
	// Output: steam 0.8628 m3/kg, heat of condensation 2199 kJ/kg
}

// What a gauge must show for 121 degC at 1800 m, before any allowance.
func ExampleNeed() {
	air, _ := steam.Site{Height: 1800, Within: steam.MapWithin, Weather: steam.TropicsWeather}.Air()
	need, _ := steam.Need(121, air)
	fmt.Printf("%.1f kPa, %.1f psi\n", need.KPa(), steam.Psi.Of(need))
	// Output: 123.5 kPa, 17.9 psi
}

// A thermometer beside the gauge: 112 degC where the gauge means 121. Even with both instruments at their worst there is air.
func ExampleGauge_EstimateAir() {
	air, _ := steam.Site{Within: steam.SurveyWithin, Weather: steam.TropicsWeather}.Air()
	g := steam.Gauge{Unit: steam.KPa, Span: 250, Line: 5, Class: 2.5, Standing: steam.Vouched}
	e, _ := g.EstimateAir(103.4, 112, 0.5, air)
	fmt.Printf("%s: %.0f to %.0f %% air\n", e.Said, 100*e.Low, 100*e.High)
	// Output: air-suspected: 20 to 30 % air
}

// A vessel that was never vented: the needle is up while the water is far from boiling.
func ExampleNeverVented() {
	p, _ := steam.NeverVented(80, 20, 101325)
	fmt.Printf("%.0f kPa at 80 degC\n", p.KPa())
	// Output: 68 kPa at 80 degC
}
