package work

import (
	"slices"
	"strconv"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// StoppedBy are the open holds that stop each of some loads, on it or on its pot.
func (d *Desk) StoppedBy(cs ...register.Cycle) (out map[model.ID][]register.Hold, err error) {
	out = map[model.ID][]register.Hold{}
	err = d.read(func(src register.Source) {
		for _, c := range cs {
			if holds := register.StoppedBy(src, c.State); len(holds) > 0 {
				out[c.State.Ref.ID] = holds
			}
		}
	})
	return out, err
}

// StopCodes are the codes of what stops a load, each once.
func (d *Desk) StopCodes(c register.Cycle) ([]string, error) {
	all, err := d.StoppedBy(c)
	return register.Codes(all[c.State.Ref.ID]), err
}

// stoppedLately bounds the loads of a stopped pot that are looked through.
const stoppedLately = 100

// todayStopped names the packs that went out or were used before their load was stopped: one line a load, until what stops it is settled. Of loads that are called back the
// recall has them.
func (d *Desk) todayStopped(p Place, called map[model.ID]bool, add func(Urgency, string, string, model.ID, ...string)) error {
	if err := d.todayBorrowed(p, add); err != nil {
		return err
	}
	loads, err := d.suspects(p)
	if err != nil {
		return err
	}
	for _, id := range loads {
		if called[id] {
			continue
		}
		c, err := d.Cycle(id)
		if err != nil {
			return err
		}
		if len(c.Released) == 0 {
			continue
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
			if !stoppedSince(x) {
				continue
			}
			switch {
			case x.Opened != nil && x.Opened.Strip.Bad() && len(x.Uses) == 0: // it was not used on anybody
			case x.Opened != nil:
				gone = append(gone, strings.TrimSpace(x.Label+": "+d.usesOf(x)))
			case x.Out() && x.Where() == model.MoveAside: // it was found there
			case x.Out():
				gone = append(gone, x.Label+": "+d.whereTo(x))
			}
		}
		if len(gone) > 0 {
			add(Stop, "stopped-out", "cycle", id, strconv.FormatInt(c.Begun.Number, 10), strings.Join(gone, "; "))
		}
	}
	return nil
}

// stoppedSince says that something beside its own use or its own end stops a pack.
func stoppedSince(x PackView) bool {
	return slices.ContainsFunc(x.Answer.Holds, func(h register.Hold) bool {
		return h.Open() && h.Code != register.HoldOpened && h.Code != register.HoldSpoilt
	})
}

// suspects are the loads that may be stopped after their packs went out: those that wait for somebody again, and the latest of each pot, also where they were rejected since.
func (d *Desk) suspects(p Place) ([]model.ID, error) {
	out, err := d.openCycles()
	if err != nil {
		return nil, d.unread(err)
	}
	for _, pot := range p.Pots {
		loads, err := d.Store.CyclesOf(pot.ID, stoppedLately)
		if err != nil {
			return nil, d.unread(err)
		}
		for _, id := range loads {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return d.withRejected(out)
}

// todayBorrowed names the packs that lie here, were made by another clinic, and were stopped since: one line a pack, until it is set aside or ended.
func (d *Desk) todayBorrowed(p Place, add func(Urgency, string, string, model.ID, ...string)) error {
	ids, err := d.Store.Borrowed(p.ID)
	if err != nil {
		return d.unread(err)
	}
	packs, err := d.packs(ids)
	if err != nil {
		return err
	}
	for _, x := range packs {
		switch {
		case !stoppedSince(x) && !(x.HasCycle && x.Cycle.ToConfirm): // what was told of its load since took its release away
		case x.Opened != nil && x.Opened.Strip.Bad() && len(x.Uses) == 0:
		case x.Opened != nil:
			add(Stop, "borrowed-used", "pack", x.ID, x.Label, d.usesOf(x))
		case !d.spoiltHere(x) && x.Where() != model.MoveAside:
			add(Stop, "borrowed-held", "pack", x.ID, x.Label)
		}
	}
	return nil
}

// SetAside answers for a pack that lies here and is stopped: it was found, and lies where nobody takes it. The clinic that made it reads so from the next stick.
func (d *Desk) SetAside(id model.ID) error {
	p, err := d.Pack(id)
	if err != nil {
		return err
	}
	if p.Over() {
		return refuse("pack-ended", p.Label)
	}
	site, err := d.SiteID()
	if err != nil {
		return err
	}
	if p.At != site && !p.At.IsZero() { // who has it says so
		return refuse("pack-elsewhere", p.Label)
	}
	_, err = d.sign(entry.Draft{Kind: model.KindPackMoved, Targets: []model.Ref{packRef(id)}, Payload: model.PackMoved{What: model.MoveAside, Site: site, At: d.Clock.Now().Wall.UnixMilli()}})
	return err
}

// whereTo is where a pack went last, by name.
func (d *Desk) whereTo(x PackView) string {
	for _, m := range slices.Backward(x.Moves) {
		if m.To != "" {
			return m.To
		}
	}
	return "?"
}

// usesOf are the register numbers of a pack's uses, as far as their notes lie here.
func (d *Desk) usesOf(x PackView) string {
	var out []string
	for _, use := range x.Uses {
		if number, ok := d.UseOf(use); ok {
			out = append(out, number)
		}
	}
	return strings.Join(out, ", ")
}

// spoiltHere says whether somebody at our site said that a pack is spoilt: what others say of it does not find it here.
func (d *Desk) spoiltHere(x PackView) (yes bool) {
	err := d.read(func(src register.Source) {
		yes = slices.ContainsFunc(x.SpoiltBy, func(v entry.Verified) bool {
			site, ok := src.Roster().SiteOf(v)
			return ok && site == d.ownSite(src.Roster()) && !src.Roster().Gone(v)
		})
	})
	return err == nil && yes
}
