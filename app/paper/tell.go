package paper

import (
	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Tell gathers what the sheet of a cycle prints.
func Tell(d *work.Desk, c register.Cycle, w *assets.Words) (Told, error) {
	p, err := d.Place()
	if err != nil {
		return Told{}, err
	}
	r, err := d.Judge(c)
	if err != nil {
		return Told{}, err
	}
	begun, known, err := d.Began(c)
	if err != nil {
		return Told{}, err
	}
	pot, _ := p.Pot(c.Begun.Sterilizer)
	packs, err := packWords(d, c, w)
	if err != nil {
		return Told{}, err
	}
	return Told{Packs: packs, Site: p.Site, Pot: pot.Looks, Cycle: c, Result: r, Begun: begun, Doubt: !known, Barred: c.Aborted() || len(c.Rejected) > 0 || c.ToConfirm || stopped(d, c),
		By: d.Person(c.Entry.Body().Person).Name, Settled: Settled(d, c, w), Made: d.Clock.Now().Wall}, nil
}

// packWords names each pack with what may be done with it now.
func packWords(d *work.Desk, c register.Cycle, w *assets.Words) (out []string, err error) {
	for _, p := range c.Begun.Packs {
		a, err := d.Usable(p.ID)
		if err != nil {
			return nil, err
		}
		out = append(out, p.Label+" ("+w.Say("usable."+string(a.Word))+")")
	}
	return out, nil
}

// byWhom is the person who acted; where that name is not here, the clinic.
func byWhom(d *work.Desk, v entry.Verified, c register.Cycle) string {
	if name := d.Person(v.Body().Person).Name; name != "" {
		return name
	}
	names, _ := d.SiteNames() // without them nobody is named
	return names[d.SiteOfCycle(c)]
}

// Settled says in one sentence how a cycle ended; "" while it waits.
func Settled(d *work.Desk, c register.Cycle, w *assets.Words) string {
	switch {
	case c.Aborted():
		return w.Say("hold.aborted") + ": " + c.Closed.Reason
	case len(c.Rejected) > 0:
		var r model.Reject
		v := c.Rejected[0]
		_ = v.Body().Decode(&r) // what cannot be read is still a rejection
		return w.Say("cycle.rejected", byWhom(d, v, c), r.Reason)
	case stopped(d, c):
		why, err := d.StopCodes(c)
		if err != nil || len(why) == 0 {
			return w.Say("usable.held")
		}
		return w.Say("usable.held") + ": " + w.Each("hold.", why)
	case c.ToConfirm: // what was told of it since took its release away
		return w.Say("state.to-confirm")
	case len(c.Released) > 0:
		var r model.Release
		v := c.Released[0]
		if v.Body().Decode(&r) != nil {
			return ""
		}
		at, _, err := d.Corrected(v)
		if err != nil {
			return ""
		}
		s := w.Say("cycle.released", byWhom(d, v, c), w.Day(at), w.Clock(at))
		if r.Override {
			s += " · " + w.Say("verdict.not-known") + ": " + r.Reason
		}
		if r.SamePerson {
			s += " · " + w.Say("cycle.released.same")
		}
		return s
	}
	return ""
}

// stopped says whether something stops a load, on it or on its pot, or cannot be read.
func stopped(d *work.Desk, c register.Cycle) bool {
	by, err := d.StoppedBy(c)
	return err != nil || len(by) > 0
}
