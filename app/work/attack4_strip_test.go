package work_test

import (
	"testing"
	"time"

	"mvuke/app/work"
	"mvuke/model"
)

// A strip that failed in a load, and a gauge that showed too much but not so much that people are to be told.
func TestGaugeRecallHidesAFailedStrip(t *testing.T) {
	for _, order := range []string{"strip, then gauge", "gauge, then strip"} {
		t.Run(order, func(t *testing.T) {
			b := atD(t)
			b.compare(right...)
			load := []model.LoadPack{{Label: "ND-A0001", Set: "delivery", Tape: true, Strip: true}, {Label: "ND-A0002", Set: "delivery", Tape: true, Strip: true}, {Label: "ND-A0003", Set: "delivery", Tape: true, Strip: true}}
			packs, cycle := b.ranLoad(load, 140_000)
			b.check(b.d.Release(cycle, ""))
			b.check(b.d.OpenPack(packs[0], packUse()))
			strip := func() {
				b.check(b.d.OpenPack(packs[1], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: order[0] == 'g'}))
			}
			gauge := func() {
				b.clk.Pass(24 * time.Hour)
				b.compare(high...)
				_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
				b.check(err)
			}
			if order[0] == 's' {
				strip()
				if !b.line("stopped-out") {
					t.Fatal("without the gauge it is not named either")
				}
				gauge()
			} else {
				gauge()
				strip()
			}
			r := b.recallOf()
			b.check(b.d.SetAside(packs[2]))
			err := b.d.CloseRecall(r.ID, "")
			if err == nil && !b.line("stopped-out") {
				t.Error("a strip of its load failed; 1187, on whom a sibling was opened, is on no list, and the recall is over with everybody told who is to be")
			}
		})
	}
}

// The same with a witness, a stop by hand, and a strip that comes later.
func TestGaugeRecallHidesOtherFailures(t *testing.T) {
	for name, fail := range map[string]func(b *bench, cycle model.ID, packs []model.ID) error{
		"the witness": func(b *bench, cycle model.ID, _ []model.ID) error {
			return b.d.Witnessed(cycle, model.Witness{Kind: model.WitnessThermometer, MaxMilli: 112_000})
		},
		"stopped by hand": func(b *bench, cycle model.ID, _ []model.ID) error { return b.d.Stop(cycle, "the water was dirty") },
		"strip, after the recall": func(b *bench, cycle model.ID, packs []model.ID) error {
			return b.d.OpenPack(packs[1], work.UseForm{Outside: true, Strip: model.StripNot, Anyway: true})
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := atD(t)
			b.compare(right...)
			load := []model.LoadPack{{Label: "ND-A0001", Set: "delivery", Tape: true, Strip: true}, {Label: "ND-A0002", Set: "delivery", Tape: true, Strip: true}, {Label: "ND-A0003", Set: "delivery", Tape: true, Strip: true}}
			packs, cycle := b.ranLoad(load, 140_000)
			b.check(b.d.Release(cycle, ""))
			b.check(b.d.OpenPack(packs[0], packUse()))
			if name == "the witness" || name == "stopped by hand" {
				b.check(fail(b, cycle, packs))
			}
			b.clk.Pass(24 * time.Hour)
			b.compare(high...)
			_, err := b.d.SettleDoubt(b.pot().ID, "looked back")
			b.check(err)
			if name == "strip, after the recall" {
				b.check(fail(b, cycle, packs))
			}
			r := b.recallOf()
			if r.Untold == 0 && !b.line("stopped-out") {
				t.Error("1187 is on no list")
			}
		})
	}
}
