package work_test

import (
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/model/entry"
)

func (b *bench) zmonth(y int, m time.Month) work.Figures {
	b.t.Helper()
	x, err := b.d.MonthOf(y, m)
	b.check(err)
	return x.Sites[0]
}

func (b *bench) zsteal(since time.Time) {
	b.t.Helper()
	devices, err := b.d.Devices()
	b.check(err)
	for _, dev := range devices {
		if s, err := b.d.SiteID(); err == nil && dev.Site == s && !dev.Own && !dev.Removed {
			b.check(b.d.RemoveDevice(dev.Stream, since, "stolen that day"))
		}
	}
}

// void tells of a test once more: its control did not grow.
func (b *bench) zvoid(n byte, test model.ID) {
	b.t.Helper()
	read, err := b.d.SporeTest(test)
	b.check(err)
	b.put(b.manager(n), entry.Draft{Kind: model.KindSporeRead, Targets: read.ReadBy.Body().Refs(), Relies: []entry.ID{read.PlacedBy.ID()},
		Payload: model.SporeRead{Hours: 48, Degrees: 57, At: b.clk.Wall.UnixMilli()}})
	if read, err = b.d.SporeTest(test); err != nil || read.Said != model.SporeVoid {
		b.t.Fatal(read.Said, err)
	}
}

func (b *bench) ranTrial(needle int64) model.ID {
	b.t.Helper()
	p := b.place()
	id, _, err := b.d.Begin(p.Pots[0], p.Site, work.BeginForm{Item: model.Wrapped, Trial: true, TestPack: true, WaterML: 2600, Fuel: "wood"})
	b.check(err)
	step := func(code model.StepCode, after int) {
		b.clk.Pass(time.Duration(after) * time.Minute)
		b.check(b.d.Step(id, code, nil))
	}
	step(model.StepLidShut, 3)
	step(model.StepLit, 2)
	step(model.StepVentStart, 17)
	step(model.StepVentEnd, 11)
	b.clk.Pass(4 * time.Minute)
	b.check(b.d.Look(id, needle*2/3, model.NoAnswer, 0))
	b.clk.Pass(4 * time.Minute)
	b.check(b.d.Look(id, needle, model.NoAnswer, 0))
	for m := 0; m < 32; m += 4 {
		b.clk.Pass(4 * time.Minute)
		b.check(b.d.Look(id, needle, model.Stayed, 0))
	}
	step(model.StepFireDrawn, 1)
	step(model.StepSteamOut, 1)
	zero := int64(0)
	b.clk.Pass(8 * time.Minute)
	b.check(b.d.Step(id, model.StepZero, &zero))
	b.clk.Pass(3 * time.Minute)
	b.check(b.d.Step(id, model.StepOpened, &zero))
	step(model.StepDried, 30)
	step(model.StepCooled, 40)
	b.check(b.d.CloseCycle(id, model.CycleClosed{Outcome: model.RanThrough}))
	b.check(b.d.Witnessed(id, model.Witness{Kind: model.WitnessStrip, Reached: true}))
	return id
}
