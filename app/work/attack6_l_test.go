package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
)

// The clock stood thirty days ahead when the load was lit; the day after somebody set it right and said so. A month later the cloth packs of then are over for weeks.
func TestAttack6ShelfOfAClockAhead(t *testing.T) {
	b := desk(t)
	b.sterileOrNot()
	ahead := 30 * 24 * time.Hour
	b.clk.Wall = b.clk.Wall.Add(ahead)
	packs, _ := b.sterile(1)
	b.check(b.d.Close())
	b.clk.Wall = b.clk.Wall.Add(-ahead)
	b.open()
	b.check(b.d.AnswerDate(time.Time{}))
	for day := 1; day < 50; day++ {
		b.clk.Pass(24 * time.Hour)
		b.check(b.d.Close())
		b.open()
		if b.d.AskDate() {
			b.check(b.d.AnswerDate(time.Time{}))
		}
		b.sterileOrNot()
		s := b.state(packs[0])
		if day > 15 && (s == work.ShelfReady || s == work.ShelfFirst) {
			p, err := b.d.Pack(packs[0])
			b.check(err)
			t.Fatalf("sterilized %d days ago, cloth keeps 14: %s, last day %s (doubtful %v)", day, s, p.LastDay.Format(time.DateOnly), b.d.ClockDoubtful())
		}
	}
}
