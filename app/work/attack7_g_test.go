package work_test

import (
	"testing"
	"time"

	"mvuke/model"
)

// The altitude: two words of the tablet, then the laptop's own.
func TestAttack7AltitudeByTheLaptopAfterTwoWords(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	for _, m := range []int64{1150, 1180} {
		b.clk.Pass(time.Hour)
		tablet.correctSite(func(s *model.Site) { s.HeightM = m })
	}
	x.carry(tablet, b)
	b.clk.Pass(time.Hour)
	b.correctSite(func(s *model.Site) { s.HeightM = 1200 })
	b.clk.Pass(time.Hour)
	packs, cycle := b.sterile(1)
	w0 := b.word(packs[0])
	b.zsteal(since)
	if w := b.word(packs[0]); w != w0 {
		t.Errorf("planned by the laptop's word, %s then %s by %v", w0, w, b.doubtedBy(cycle))
	}
}

// The same of comparisons.
