package work_test

import (
	"testing"
	"time"
)

// The day of a use.
func TestDayOfAUse(t *testing.T) {
	for _, said := range []bool{true, false} {
		b := desk(t)
		packs, cycle := b.sterile(1)
		b.clk.Pass(24 * time.Hour)
		day := b.clk.Wall.Add(2 * time.Hour)
		b.reboot(time.Hour, time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC))
		if said {
			b.check(b.d.AnswerDate(day))
		} else {
			b.check(b.d.AnswerDate(time.Time{}))
		}
		b.check(b.d.OpenPack(packs[0], packUse()))
		b.reboot(time.Hour, day.Add(24*time.Hour))
		b.grows(cycle)
		s := b.recallOf().Square(packs[0])
		if s.Day.Year() == 2015 {
			t.Error("the list for the clinician says 2015")
		}
	}
}
