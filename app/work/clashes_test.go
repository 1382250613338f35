package work_test

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"mvuke/app/work"
	"mvuke/model/entry"
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
	if c := has("pot"); c == nil || c.Own || c.Site != "Clinic B" || len(c.Values) != 2 {
		t.Errorf("the pot: %+v", c)
	}
	if c := has("cycle-number"); c == nil || c.Args[0] != "1" || c.Args[1] != "2" {
		t.Errorf("the cycle's number: %+v", c)
	}
	if c := has("pack-number"); c != nil {
		t.Errorf("no two packs have one number: %+v", c)
	}
}

// Whoever is in charge takes one of two descriptions, and nothing beside it changes; what a dial that is taken puts in doubt is in doubt.
func TestOneOfTwoDescriptionsIsTaken(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.proven()
	packs, _ := b.sterile(1)
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
		a.Pot.LeastWaterML += int64(100 * i)
		a.Gauge.LineMilli *= int64(1 + i)
		h.check(h.d.Correct(p.Pots[0], p, a))
	}
	line, water := b.pot().Gauge.LineMilli, b.pot().Looks.LeastWaterML
	x.carry(tablet, b)
	take := func(code, says string) {
		t.Helper()
		all, err := b.d.Clashes()
		b.check(err)
		for _, c := range all {
			for _, v := range c.Values {
				if c.Code == code && c.Choosable() && slices.ContainsFunc(v.Says, func(f work.ClashField) bool { return f.Value == says }) {
					b.check(b.d.SettleClash(c, v.ID))
					return
				}
			}
		}
		t.Fatalf("no %s says %q: %+v", code, says, all)
	}
	if !b.pot().Two {
		t.Fatal("the pot is described in one way")
	}
	take("pot", strconv.FormatFloat(float64(water)/1000, 'f', -1, 64)+" L")
	if p := b.pot(); p.Looks.LeastWaterML != water || p.Gauge.LineMilli != 2*line {
		t.Errorf("water %d, lines %d", p.Looks.LeastWaterML, p.Gauge.LineMilli)
	}
	take("gauge", strconv.FormatInt(2*line/1000, 10)+" "+b.pot().Gauge.Unit)
	if p := b.pot(); p.Two || p.Gauge.LineMilli != 2*line {
		t.Errorf("described twice: %v, lines %d", p.Two, p.Gauge.LineMilli)
	}
	if b.state(packs[0]) == work.ShelfReady {
		t.Error("it was read on lines twice as far apart as its plan counted, and its pack is ready")
	}
	left, err := b.d.Clashes()
	b.check(err)
	for _, c := range left {
		if c.Choosable() {
			t.Errorf("left: %+v", c)
		}
	}
}

func TestADescriptionOfAnotherClinicIsNotTakenHere(t *testing.T) {
	b := desk(t)
	if err := b.d.SettleClash(work.Clash{Code: "gauge", ID: b.pot().Looks.Gauge}, entry.ID{1}); code(err) != "clash-gone" {
		t.Errorf("got %v", err)
	}
}
