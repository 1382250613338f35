package work

import (
	"time"

	"mvuke/model"
	"mvuke/model/entry"
)

// Seed writes about n entries of invented, settled past cycles, in few transactions: for measuring
// how the program bears a register of years. The load is rejected, so nothing of it is usable.
func (d *Desk) Seed(n int, progress func(done int)) error {
	p, err := d.Place()
	if err != nil || len(p.Pots) == 0 {
		return refuse("not-set-up")
	}
	pot := p.Pots[0]
	plan, err := d.Plan(pot, p.Site, model.Wrapped, nil)
	if err != nil {
		return err
	}
	number, err := d.Store.HighestNumber(pot.ID)
	if err != nil {
		return err
	}
	for done := 0; done < n; {
		var drafts []entry.Draft
		for len(drafts) < 4000 && done+len(drafts) < n {
			number++
			drafts = append(drafts, d.seedCycle(pot, plan, number)...)
		}
		if _, err := d.sign(drafts...); err != nil {
			return err
		}
		done += len(drafts)
		if progress != nil {
			progress(done)
		}
	}
	return nil
}

func (d *Desk) seedCycle(pot Pot, plan Planned, number int64) []entry.Draft {
	id, pack := d.NewID(), d.NewID()
	cycle := model.Ref{Noun: model.NounCycle, ID: id}
	refs := []model.Ref{cycle, {Noun: model.NounPack, ID: pack}}
	out := []entry.Draft{{Kind: model.KindCycleBegun, Targets: refs, Payload: model.CycleBegun{Number: number, Sterilizer: pot.ID,
		Item: model.Wrapped, Packs: []model.LoadPack{{ID: pack, Label: "seed", Tape: true}}, WaterML: 2600, Plan: plan.Frozen,
		Source: model.Live, Begun: d.Clock.Now().Wall.Add(-24 * time.Hour).UnixMilli()}}}
	for m := int64(0); m < 16; m++ {
		out = append(out, entry.Draft{Kind: model.KindReadings, Targets: refs[:1:1], Payload: model.Readings{Source: model.Live,
			List: []model.Reading{{At: (40 + 3*m) * 60000, NeedleMilli: plan.Frozen.MarkMilli, Answer: model.Stayed}}}})
	}
	return append(out,
		entry.Draft{Kind: model.KindCycleClosed, Targets: refs[:1:1], Payload: model.CycleClosed{Outcome: model.RanThrough}},
		entry.Draft{Kind: model.KindReject, Targets: refs, Payload: model.Reject{Reason: "seed"}})
}
