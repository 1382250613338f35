package work

import (
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/sync/bundle"
)

// What others are known to hold of ours.

// Held is what a device says that it holds of ours.
type Held struct {
	Device entry.Stream
	Site   model.ID
	Wall   int64 // by its clock, when it said so
	Seq    uint64
	Ours   uint64 // entries that we have written
}

// HeldElsewhere lists what other devices said they hold of what this device wrote: "the office holds your records up to ...". Of a clinic's records those that hold all are the office and its
// own devices: other clinics get only what concerns them, and are not listed.
func (d *Desk) HeldElsewhere() (out []Held, err error) {
	list, err := d.Store.Standings()
	if err != nil {
		return nil, d.unread(err)
	}
	err = d.read(func(src register.Source) {
		for _, s := range list {
			x, err := bundle.OpenStanding(bundle.Signed{Raw: s.Raw, Key: s.Key, Sig: s.Sig})
			dev, known := src.Roster().Device(s.Holder)
			if err != nil || !known || s.Holder == d.author.Stream {
				continue
			}
			own, _ := src.Roster().Site(d.ownSite(src.Roster()))
			if their, _ := src.Roster().Site(dev.Site); dev.Site != own.ID && !their.Office && !own.Office {
				continue
			}
			h := Held{Device: s.Holder, Site: dev.Site, Wall: x.Wall, Ours: d.author.Seq}
			for _, y := range x.Heads {
				if y.Stream == d.author.Stream {
					h.Seq = max(h.Seq, y.Seq)
				}
			}
			out = append(out, h)
		}
	})
	return out, err
}
