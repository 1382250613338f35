package pot

import (
	"math"
	"testing"

	"mvuke/steam"
)

func TestWaterCondensateAndDrying(t *testing.T) {
	boil, _ := boilingAt(t, 0)
	steel, cotton := Stuff{8, HeatSteel, true}, Stuff{2, HeatCotton, false}
	d, err := Dry(cotton, steel, 20, 121.1, 100, 60, 100, 0)
	if err != nil {
		t.Fatal(err)
	}
	onSteel := ok(steel.Condensate(20, 121.1))(t)
	off1 := ok(cotton.DriedBy(d.Condensed, 121.1, 100))(t)
	off2 := ok(cotton.DriedBy(d.Condensed-off1, 100, 60))(t)
	energy := func(p float64) float64 { // J delivered: to boiling, 10 minutes of vent, to the set temperature, hold
		s := ok(Warmup(p, 7, 25, capacity(2.5, 60), 20, boil))(t) + 600 +
			ok(Warmup(p, 7, 25, capacity(2.5-600*ok(SteamRate(p, 7, 25, boil))(t), 110), boil, 121.1))(t)
		return p*s + 7*96.1*1800
	}
	have := map[string]float64{
		"purge_loss_1500W": 600 * ok(SteamRate(1500, 7, 25, boil))(t), "purge_loss_2500W": 600 * ok(SteamRate(2500, 7, 25, boil))(t),
		"purge_loss_4000W":   600 * ok(SteamRate(4000, 7, 25, boil))(t),
		"vapour_filling":     0.0375 / ok(steam.Saturation(121.1))(t).Vapour.V,
		"safety_valve_2500W": 60000 * ok(SteamRate(2500, 7, 25, 121.1))(t),
		"condensate_steel":   onSteel, "condensate_steel_pct": onSteel / 8 * 100, "condensate_cotton": d.Condensed, "condensate_cotton_pct": d.Condensed / 2 * 100,
		"cotton_evaporated_exhaust": off1, "cotton_evaporated_cooling": off2, "cotton_left": d.Left, "cotton_left_pct": d.Share * 100,
		"steel_can_evaporate": onSteel - d.OnMetal, "drying_water": d.Left - 0.02, "drying_minutes_100W": d.Extra / 60,
		"energy_total_1500W": energy(1500) / 1e6, "energy_total_2500W": energy(2500) / 1e6, "energy_total_4000W": energy(4000) / 1e6,
		"wood_low": Wood.Needed(6.2e6).Low, "wood_high": Wood.Needed(6.2e6).High,
	}
	// The note's arithmetic rounds on the way; the library's own heats move these by a gram or two in a hundred.
	loose := map[string]float64{"cotton_left": 0.0015, "cotton_left_pct": 0.08, "cotton_evaporated_cooling": 0.0012, "steel_can_evaporate": 0.0015,
		"drying_water": 0.0015, "drying_minutes_100W": 0.7, "energy_total_1500W": 0.2, "energy_total_2500W": 0.2, "energy_total_4000W": 0.2}
	n := 0
	for _, r := range load(t, "water.csv") {
		if got, ok := have[r.Text("name")]; ok {
			r.Near("value", got, max(r.Num("tolerance"), loose[r.Text("name")]))
			n++
		}
	}
	if n != len(have) {
		t.Errorf("%d of %d figures found in the table", n, len(have))
	}
	if d.Said != Borderline {
		t.Errorf("%+v", d)
	}
	longer, _ := Dry(cotton, steel, 20, 121.1, 100, 60, 100, d.Extra)
	if longer.Said != LikelyDry || longer.Extra > 1 {
		t.Errorf("after the extra minutes: %+v", longer)
	}
	if soon, _ := Dry(cotton, steel, 20, 121.1, 100, 95, 100, 0); soon.Said != LikelyWet {
		t.Errorf("taken out hot: %+v", soon)
	}
}

// The guaranteed rest counts every part at its high bound: more of anything never leaves more.
func TestWaterLeft(t *testing.T) {
	u := Use{Boiling: 600, Exhausts: 1, Fire: 2500, Loss: 6, Around: 25, Boil: 100, Set: 122, Condensed: 0.3, Free: 0.0375, Capacity: 27000}
	left := ok(WaterLeft(2.5, u))(t)
	if left < 1.1 || left > 1.4 { // 0.54 boiled, 0.26 flash, 0.04 filling, 0.3 on the load
		t.Errorf("%.3f kg left", left)
	}
	for name, more := range map[string]func(*Use){
		"boiling": func(u *Use) { u.Boiling += 300 }, "blowing": func(u *Use) { u.Blowing += 300 }, "exhaust": func(u *Use) { u.Exhausts++ },
		"fire": func(u *Use) { u.Fire += 500 }, "leak": func(u *Use) { u.Leak, u.Hold = 1e-5, 1800 }, "load": func(u *Use) { u.Condensed += 0.1 },
	} {
		v := u
		more(&v)
		if got := ok(WaterLeft(2.5, v))(t); got >= left || math.IsNaN(got) {
			t.Errorf("more %s leaves %.3f kg", name, got)
		}
	}
	u.Boiling, u.Blowing = 600, 1800 // the safety valve blowing through the hold
	if got := ok(WaterUsed(u))(t); got < 2.2 {
		t.Errorf("a blowing valve uses %.2f kg", got)
	}
	if _, err := WaterLeft(2.5, Use{Boil: 300, Set: 121}); err == nil {
		t.Error("water boiling at 300 degC was believed")
	}
}
