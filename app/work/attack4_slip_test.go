package work_test

import (
	"testing"
	"time"
)

// A negative of an old load resets the day.
func TestNegativeOfAnOldLoad(t *testing.T) {
	b := desk(t)
	lit := b.clk.Wall.Add(-70 * 24 * time.Hour)
	b.clk.Pass(24 * time.Hour)
	_, cycle := b.slip(lit, 1)
	b.zneg(b.spore(cycle, zyear, true))
	at, ok, err := b.d.LastNegative(b.pot().ID)
	b.check(err)
	if ok && b.clk.Wall.Sub(at) < 30*24*time.Hour && !b.line("spore-overdue") {
		t.Error("the last load that was proven was run 70 days ago; 30 are asked, and nothing is overdue")
	}
	if f := b.zmonth(2026, 12); f.NegativeAgo < 65 {
		t.Errorf("the month says %d days", f.NegativeAgo)
	}
}
