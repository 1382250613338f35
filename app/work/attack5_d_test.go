package work_test

import (
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// The same two acts at once; only whose counter is higher differs.
func TestStripAtOnceWithTheEnd(t *testing.T) {
	got := map[string]bool{}
	for _, ahead := range []string{"tablet", "laptop"} {
		x := newDistrictOf(t, "Clinic B")
		b := x.clinics[0]
		x.join(b)
		packs, cycle := b.sterile(3)
		tablet := x.twin(b)
		x.carry(tablet, b)
		b.check(b.d.OpenPack(packs[0], packUse()))
		b.check(b.d.MovePack(packs[1], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
		id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "label of another load?", Loads: []model.ID{cycle}})
		b.check(err)
		b.check(b.d.SetAside(packs[2]))
		if ahead == "tablet" {
			tablet.sterileOrNot()
		} else {
			b.sterileOrNot()
		}
		tablet.check(tablet.d.OpenPack(packs[2], work.UseForm{Outside: true, Strip: model.StripNot}))
		b.check(b.d.CloseRecall(id, "the label was right, nobody is told"))
		x.carry(tablet, b)
		got[ahead] = b.line("stopped-out")
		b.tablesHold()
	}
	if !got["tablet"] || !got["laptop"] {
		t.Error("a strip failed at once with the end of the recall: who has the pack of the maternity and the patient are named, or not, by whose counter ran ahead")
	}
}

// As before, with a comparison.
func TestDoubtAtOnceWithTheEnd(t *testing.T) {
	got, kept := map[string]bool{}, map[string]int{}
	for _, ahead := range []string{"tablet", "laptop"} {
		p, tablet, packs, cycle := twoAtD(t, 131_000)
		b := p.bench
		b.check(b.d.OpenPack(packs[1], packUse()))
		id, err := b.d.OpenRecall(work.RecallForm{Why: model.RecallHand, Reason: "label of another load", Loads: []model.ID{cycle}})
		b.check(err)
		b.check(b.d.SetAside(packs[0]))
		if ahead == "tablet" {
			tablet.sterileOrNot()
		} else {
			b.sterileOrNot()
		}
		tablet.compare(high...)
		b.check(b.d.CloseRecall(id, "the label was right, nobody is told"))
		p.carry(p.tablet, b.d, false)
		own, err := b.d.SiteID()
		b.check(err)
		_, _, kept[ahead], err = b.d.Store.LoadsAt(own)
		b.check(err)
		got[ahead] = b.line("in-doubt")
		b.tablesHold()
	}
	if !got["tablet"] || !got["laptop"] {
		t.Error("it falls and was used; whether Today leads to looking back hangs on whose counter ran ahead")
	}
	if kept["tablet"] != 1 || kept["laptop"] != 1 {
		t.Error("and so does the office's count")
	}
}

// A stricter rule of the tablet that is taken out: twelve loads were held for longer than is asked.
func TestStricterRuleFloods(t *testing.T) {
	x := newDistrictOf(t, "Clinic B")
	b := x.clinics[0]
	x.join(b)
	tablet := x.twin(b)
	x.carry(tablet, b)
	since := b.clk.Wall
	b.clk.Pass(time.Hour)
	tablet.check(tablet.d.SetPolicy(model.Policy{Code: model.PolicyWrapped, On: true, Value: 34, Source: "letter"}))
	x.carry(tablet, b)
	var all []model.ID
	for range 12 {
		id := b.burnt(work.BeginForm{Packs: demo.Packs(2, 900+10*len(all))}, 135_000, 36)
		b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
		checks, err := demo.GoodChecks(b.d, id)
		b.check(err)
		b.check(b.d.Unload(id, checks, true))
		b.check(b.d.Release(id, ""))
		all = append(all, id)
	}
	b.zsteal(since)
	n := 0
	for _, l := range b.todayOf() {
		if l.Code == "held" {
			n++
		}
	}
	if n > 0 {
		t.Error("a stricter rule counts no more; every load that was held for longer than is asked is stopped, each with a line of its own, and no act answers for all of them:", n)
	}
	b.tablesHold()
}

// The battery of the clock is flat; before, another gauge was screwed on. A slip of a day long after it.
func TestFlatBatteryAfterASwap(t *testing.T) {
	b := atD(t)
	b.compare(right...)
	b.swap()
	b.compare(right...)
	b.clk.Pass(30 * 24 * time.Hour)
	pot := b.pot()
	lit := b.clk.Wall
	b.clk.Pass(24 * time.Hour)
	g, err := b.d.GaugesThen(pot, lit)
	b.check(err)
	now := b.clk.Wall
	b.reboot(3*time.Hour, time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	b.check(b.d.AnswerDate(now.Add(3 * time.Hour)))
	g2, err := b.d.GaugesThen(b.pot(), lit)
	b.check(err)
	if len(g) != 1 || len(g2) != 1 {
		t.Error("a clock that fell BACK later makes the day of the swap unknown: slips have two gauges for ever", len(g), len(g2))
	}
}
