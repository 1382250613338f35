package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// Loads lit after the tablet that lowered the altitude was taken out.
func TestLoadsAfterRemoval(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	p := tablet.place()
	a := work.Answers{Language: "en", Site: p.Site, Pot: p.Pots[0].Looks, Gauge: p.Pots[0].Gauge, Person: model.Person{Name: "x"}}
	a.Site.HeightM, a.Site.How, a.Site.WithinM = 200, model.BySurvey, 10
	tablet.check(tablet.d.Correct(p.Pots[0], p, a))
	x.carry(tablet, b)
	b.zsteal(since)
	b.clk.Pass(time.Hour)
	packs, _ := b.sterile(1)
	if b.state(packs[0]) != work.ShelfReady {
		t.Error("lit after the removal, by the altitude that counts, and held")
	}
	b.tablesHold()
}

// Two negatives in a row were read by the tablet that is taken out.
func TestTwoGoodsByARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	_, c0 := b.sterile(1)
	b.zneg(b.spore(c0, zyear, true))
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	l01, _ := b.sterile(1)
	_, c1 := b.sterile(1)
	s1 := b.spore(c1, zyear, true)
	x.carry(b, tablet)
	tablet.zneg(s1)
	x.carry(tablet, b)
	l12, _ := b.sterile(1)
	_, c2 := b.sterile(1)
	s2 := b.spore(c2, zyear, true)
	x.carry(b, tablet)
	tablet.zneg(s2)
	x.carry(tablet, b)
	l2, _ := b.sterile(1)
	_, c3 := b.sterile(1)
	b.grows(c3)
	b.zback()
	b.zsteal(since)
	r := b.recallOf()
	for n, p := range map[string]model.ID{"l01": l01[0], "l12": l12[0], "l2": l2[0]} {
		if (n != "l2" && r.Square(p) == nil) || b.state(p) == work.ShelfReady {
			t.Error(n, "is not called back, or ready for use")
		}
	}
	b.tablesHold()
}

// A reference failed its check by 10 kPa, was certified anew, and a year later fails by 1.
func TestReferenceWrongTwice(t *testing.T) {
	b := atD(t)
	ref := b.reference("R", 600)
	cmp := func(ps ...work.ComparePoint) {
		b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: ps}))
	}
	cmp(right...)
	b.clk.Pass(24 * time.Hour)
	_, err := b.d.ReferenceWrong(ref, 10)
	b.check(err)
	b.clk.Pass(24 * time.Hour)
	_, err = b.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: 600, Certificate: "C-2", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
	b.check(err)
	cmp(right...)
	p, err := b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	_, id := b.heldAt(p.Frozen.RestartMilli + 4000)
	b.clk.Pass(200 * 24 * time.Hour)
	_, err = b.d.ReferenceWrong(ref, 1)
	b.check(err)
	p, err = b.d.Plan(b.pot(), b.place().Site, model.Wrapped, nil)
	b.check(err)
	l, err := b.d.LookBack(id)
	b.check(err)
	if !l.Stands {
		t.Error("the reference showed 1 kPa too much; the needle stood 4 kPa over its mark, and it falls")
	}
	b.tablesHold()
}

// The recall of a growth stays open for a pack that was never found; the pot works for two years with good tests; then a test grows.
func TestSecondGrowthYearsAfter(t *testing.T) {
	b := desk(t)
	_, first := b.sterile(1)
	b.zneg(b.spore(first, zyear, true))
	packs, grew := b.sterile(2)
	b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
	b.grows(grew)
	b.zback()
	var good []model.ID
	for range 4 {
		ps, _ := b.sterile(1)
		good = append(good, ps[0])
		b.clk.Pass(24 * time.Hour)
		_, c := b.sterile(1)
		b.zneg(b.spore(c, zyear, true))
		b.clk.Pass(90 * 24 * time.Hour)
	}
	bad, c := b.sterile(1)
	b.grows(c)
	all, err := b.d.Recalls()
	b.check(err)
	for i, p := range good {
		for _, r := range all {
			if r.Square(p) != nil {
				t.Error("load of quarter", i, "run before good tests is called back by recall", r.Number)
			}
		}
	}
	in := false
	for _, r := range all {
		in = in || r.Square(bad[0]) != nil
	}
	b.tablesHold()
}
