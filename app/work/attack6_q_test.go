package work_test

import (
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// A correction that names what a release rests on, and is about something else. The tables before and after they are made anew.
func TestAttack6AmendedElsewhere(t *testing.T) {
	for name, of := range map[string]func(b *bench, id model.ID) entry.ID{
		"readings": func(b *bench, id model.ID) entry.ID { return b.kindOf(id, model.KindReadings) },
		"begun":    func(b *bench, id model.ID) entry.ID { return b.kindOf(id, model.KindCycleBegun) },
	} {
		t.Run(name, func(t *testing.T) {
			b := desk(t)
			packs, cycle := b.sterile(1)
			b.check(b.d.MovePack(packs[0], model.PackMoved{What: model.MoveIssued, To: "maternity"}))
			a := b.manager(77)
			b.put(a, entry.Draft{Kind: model.KindAmended, Targets: []model.Ref{{Noun: model.NounPerson, ID: model.ID{9}}}, Replaces: []entry.ID{of(b, cycle)},
				Payload: model.Amended{Judged: true, Reason: "it was another pot's dial"}})
			before := b.line("to-confirm")
			b.tablesHold()
			if after := b.line("to-confirm"); after != before {
				t.Errorf("to-confirm on Today: %v, and after the tables were made anew %v; the pack is %s", before, after, b.state(packs[0]))
			}
		})
	}
}

func (b *bench) kindOf(id model.ID, k model.Kind) entry.ID {
	c, err := b.d.Cycle(id)
	b.check(err)
	for _, v := range c.State.Entries {
		if v.Body().Kind == k {
			return v.ID()
		}
	}
	b.t.Fatal("none")
	return entry.ID{}
}
