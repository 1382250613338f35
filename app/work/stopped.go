package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/register"
)

// stoppedLately bounds the loads of a stopped pot, and the openings, that are looked through.
const stoppedLately = 60

// todayStopped names the packs that went out or were used before their load was stopped: one line a load, until what stops it is settled.
func (d *Desk) todayStopped(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	loads, err := d.suspects(p)
	if err != nil {
		return err
	}
	for _, id := range loads {
		c, err := d.Cycle(id)
		if err != nil {
			return err
		}
		var ids []model.ID
		for _, x := range c.Begun.Packs {
			ids = append(ids, x.ID)
		}
		packs, err := d.packs(ids)
		if err != nil {
			return err
		}
		var gone []string
		for _, x := range packs {
			if x.Answer.Word != register.Held || len(c.Released) == 0 {
				continue
			}
			switch {
			case x.Opened != nil && x.Opened.Strip.Bad(): // it was not used on anybody
			case x.Opened != nil:
				number, _ := d.UseOf(x.Opened.Use)
				gone = append(gone, strings.TrimSpace(x.Label+" → "+number))
			case x.Out():
				gone = append(gone, x.Label+" → "+x.Moves[len(x.Moves)-1].To)
			}
		}
		if len(gone) > 0 {
			add(Stop, "stopped-out", "cycle", id, strconv.FormatInt(c.Begun.Number, 10), strings.Join(gone, "; "))
		}
	}
	return nil
}

// suspects are the loads that bad news may have reached after their packs went out: those of a pot that grew spores, and those of a pack
// whose strip failed when it was opened.
func (d *Desk) suspects(p Place) (out []model.ID, err error) {
	for _, pot := range p.Pots {
		if slices.Contains(pot.Why, register.HoldSpore) {
			if out, err = d.Store.CyclesOf(pot.ID, stoppedLately); err != nil {
				return nil, d.unread(err)
			}
		}
	}
	vs, err := d.Store.LatestOf(model.KindPackOpened, stoppedLately)
	if err != nil {
		return nil, d.unread(err)
	}
	err = d.read(func(src register.Source) {
		for _, v := range vs {
			var o model.PackOpened
			if v.Body().Decode(&o) == nil && !o.Strip.Bad() {
				continue
			}
			for _, ref := range v.Body().Refs() {
				if x, ok := register.PackOf(src, ref.ID); ok && ref.Noun == model.NounPack && !x.Load.IsZero() && !slices.Contains(out, x.Load) {
					out = append(out, x.Load)
				}
			}
		}
	})
	return out, err
}
