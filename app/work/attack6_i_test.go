package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// The district calls back a growth's own load only. The good test by which loads of before the bad time were left alone when the pot came back proves nothing any more.
func TestAttack6NarrowBadTimeLeansOnANegativeThatFalls(t *testing.T) {
	for _, how := range []string{"removed", "void"} {
		for _, policy := range []bool{false, true} {
			t.Run(how, func(t *testing.T) {
				x := newDistrictOf(t, "Clinic B")
				b := x.clinics[0]
				x.join(b)
				if !policy {
					b.check(b.d.SetPolicy(model.Policy{Code: model.PolicyRecallWide, On: false, Source: "one positive test"}))
				}
				_, c0 := b.sterile(1)
				b.zneg(b.spore(c0, zyear, true))
				tablet := x.twin(b)
				x.carry(tablet, b)
				b.clk.Pass(time.Hour)
				since := b.clk.Wall
				b.clk.Pass(time.Hour)
				l01, _ := b.sterile(1)
				_, c1 := b.sterile(1)
				s1 := b.spore(c1, zyear, true)
				x.carry(b, tablet)
				if how == "removed" {
					tablet.zneg(s1)
				} else {
					b.zneg(s1)
				}
				x.carry(tablet, b)
				l12, _ := b.sterile(1)
				_, c2 := b.sterile(1)
				b.grows(c2)
				b.zback()
				if b.pot().Out {
					t.Fatal("out")
				}
				if b.state(l01[0]) != work.ShelfReady || b.state(l12[0]) == work.ShelfReady {
					t.Fatal(b.state(l01[0]), b.state(l12[0]))
				}
				if how == "removed" {
					b.zsteal(since)
				} else {
					b.zvoid(77, s1)
				}
				if s := b.state(l01[0]); s == work.ShelfReady {
					t.Errorf("wide %v: the last good test before the growth lies before it now, and it is %s", policy, s)
				}
				b.tablesHold()
			})
		}
	}
}
