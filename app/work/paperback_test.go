package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// A clinic that writes on paper brings its pot back by slips too, if their fires were lit after the growth was read; one lit before proves nothing, whenever it is typed.
func TestNegativesOnPaperBringAPotBack(t *testing.T) {
	b := desk(t)
	_, cycle := b.sterile(1)
	b.clk.Pass(8 * time.Hour)
	early := b.clk.Wall.Add(-3 * time.Hour)
	_, err := b.d.ReadSpore(b.spore(cycle, 365*24*time.Hour, true), model.SporeRead{Grew: true})
	b.check(err)
	slip := func(lit time.Time) {
		t.Helper()
		s := work.Slip{Begin: work.BeginForm{Item: model.Wrapped, Trial: true, TestPack: true, WaterML: 2600}, Lit: lit, VentFrom: 18, VentTo: 29, SteamOut: 81, Zero: 88, ZeroSeen: true, Opened: 91}
		for m := 35.0; m <= 80; m += 3 {
			low := int64(145_000)
			s.Looks = append(s.Looks, work.SlipLook{Minute: m, Needle: 147_000, Lowest: &low})
		}
		id, err := b.d.TypeIn(b.pot(), b.place().Site, s)
		b.check(err)
		b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
		test := b.spore(id, 365*24*time.Hour, true)
		b.clk.Pass(50 * time.Hour)
		_, err = b.d.ReadSpore(test, model.SporeRead{ControlGrew: true, Hours: 48, Degrees: 57})
		b.check(err)
	}
	slip(early)
	for i := range 3 {
		if got := code(b.d.BackToService(b.pot(), "spore-grew", "seal changed")); got != "three-negatives" {
			t.Fatalf("after %d slips of later fires: %q", i, got)
		}
		slip(b.clk.Wall.Add(-2 * time.Hour))
	}
	b.check(b.d.BackToService(b.pot(), "spore-grew", "seal changed"))
	if b.pot().Out {
		t.Error("still out of service")
	}
}
