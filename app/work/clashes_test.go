package work_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"mvuke/app/work"
)

// Two devices of a clinic state the pot differently, and both begin a cycle of one number: the office lists both, and neither value is lost.
func TestWhatWasToldTwiceIsListed(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	dir := filepath.Join(t.TempDir(), "tablet")
	b.check(b.d.Close())
	b.check(os.CopyFS(dir, os.DirFS(b.dir)))
	b.open()
	tablet := house{&bench{t: t, dir: dir, clk: b.clk}, "Clinic B's tablet"}
	tablet.open()
	defer func() { _ = tablet.d.Close() }()
	for i, h := range []house{b, tablet} {
		p := h.place()
		a := work.Answers{Site: p.Site, Gauge: p.Pots[0].Gauge, Pot: p.Pots[0].Looks}
		a.Pot.LeastWaterML = int64(2500 + 100*i)
		h.check(h.d.Correct(p.Pots[0], p, a))
		h.sterile(1)
	}
	x.carry(b, x.office)
	x.carry(tablet, x.office)
	all, err := x.office.d.Clashes()
	x.office.check(err)
	has := func(code string) *work.Clash {
		if i := slices.IndexFunc(all, func(c work.Clash) bool { return c.Code == code }); i >= 0 {
			return &all[i]
		}
		return nil
	}
	if c := has("pot"); c == nil || c.Own || c.Site != "Clinic B" || len(c.By) != 2 {
		t.Errorf("the pot: %+v", c)
	}
	if c := has("cycle-number"); c == nil || c.Args[0] != "1" || c.Args[1] != "2" {
		t.Errorf("the cycle's number: %+v", c)
	}
	if c := has("pack-number"); c != nil {
		t.Errorf("no two packs have one number: %+v", c)
	}
}
