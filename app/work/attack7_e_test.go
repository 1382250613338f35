package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/register"
)

// The error of a reference was written wrongly and is put right in two steps: 0.6, then 5, then 9.
func TestAttack7ReferencePutRightTwice(t *testing.T) {
	var lines [2]int64
	for i, steps := range [][]int64{{9000}, {5000, 9000}} {
		b := atD(t)
		ref := b.reference("R", 600)
		b.check(b.d.Compare(b.pot(), b.place().Site, work.CompareForm{Cold: true, With: ref, Points: right}))
		var packs []model.ID
		for k, milli := range steps {
			b.clk.Pass(time.Hour)
			_, err := b.d.SaveReference(ref, model.Reference{Name: "R", Unit: "kPa", ErrorMilli: milli, Certificate: "C-1", Due: b.clk.Wall.AddDate(1, 0, 0).UnixMilli()})
			b.check(err)
			if len(steps) == 2 && k == 0 {
				packs, _ = b.heldAt(b.plan().Frozen.RestartMilli)
			}
		}
		lines[i] = b.plan().Frozen.RestartMilli
		if packs != nil {
			if w := b.word(packs[0]); w == register.Usable {
				t.Errorf("lit when the reference was said to be off by 5; it is off by 9, and the load under the line is %s", w)
			}
		}
	}
	if lines[0] != lines[1] {
		t.Errorf("the line is %d where it is put right at once, and %d in two steps", lines[0], lines[1])
	}
}

// C, that got a pack of B by hand, used it or unwrapped it; B's load is rejected.
func TestAttack7UnwrappedByTheNeighbour(t *testing.T) {
	for _, used := range []bool{false, true} {
		x := newDistrictOf(t, "Clinic B", "Clinic C")
		b, c := x.clinics[0], x.clinics[1]
		x.join(b)
		x.join(c)
		x.carry(x.office, b)
		packs, load := b.sterile(1)
		b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveSent, To: "Clinic C"}))
		x.carry(b, x.office)
		x.carry(x.office, c)
		if used {
			c.check(c.d.OpenPack(packs[0], packUse()))
		} else {
			c.check(c.d.OpenPack(packs[0], work.UseForm{Outside: false, Strip: model.StripNot}))
		}
		b.clk.Pass(time.Hour)
		b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveBack})) // its pieces came back
		b.check(b.d.Reject(load, "tape"))
		x.carry(c, x.office)
		x.carry(x.office, b)
		e1 := b.d.SpoilPack(packs[0], model.SpoiltTorn)
		e2 := b.d.OpenPack(packs[0], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true})
		e3 := b.d.SetAside(packs[0])
		for _, l := range b.todayOf() {
			if l.Code == "unwrap" { // that one was used stays on top until it is called back
				t.Errorf("used %v: Today of B: %s %v; its pack is %s; torn: %v, unwrapped: %v, aside: %v", used, l.Code, l.Args, b.state(packs[0]), e1, e2, e3)
			}
		}
	}
}

// A load freed when another gauge was found right enough, by a rule of a removed device that a comparison counts for a year.
func TestAttack7ClearByARuleOfARemovedDevice(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	b.correctGauge(func(g *model.GaugeLooks) { g.LineMilli, g.ClassMilli = 1000, 1000 })
	b.compare(work.ComparePoint{Shown: 56, True: 60}, work.ComparePoint{Shown: 114, True: 118})
	for range 4 {
		b.clk.Pass(30 * 24 * time.Hour)
		b.sterileOrNot()
	}
	tablet := x.twin(b)
	x.carry(tablet, b)
	n := b.plan().Frozen
	packs, load := b.heldAt(n.RestartMilli)
	b.clk.Pass(time.Hour)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.SetPolicy(model.Policy{Code: model.PolicyCompareEvery, On: true, Value: 365, Source: "letter"}))
	x.carry(tablet, b)
	b.correctGauge(func(g *model.GaugeLooks) { g.LineMilli = 5000 })
	_, err := b.d.SettleDoubt(b.pot().ID, "looked")
	b.check(err)
	b.zsteal(since)
	l, err := b.d.LookBack(load)
	b.check(err)
	if w := b.word(packs[0]); w == register.Usable && !l.Stands {
		t.Errorf("freed by a comparison that counts only by a rule of a removed device: %s, line %v", w, l.Now.Line)
	}
}
