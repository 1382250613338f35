package work

import (
	"encoding/hex"
	"slices"

	"github.com/google/uuid"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/trust"
)

// How an act becomes an entry that is safe.

// sureOfStream asks the register where our stream stands after a write that failed: it may have
// reached the disk all the same, and its number must not be taken twice.
func (d *Desk) sureOfStream() error {
	if !d.unsure {
		return nil
	}
	seq, head, lamport, err := d.Store.Resume(d.author.Stream)
	if err != nil {
		return err
	}
	d.author.Resume(seq, head, lamport)
	d.unsure = false
	return nil
}

// sign signs one act, has it committed, and moves the stream and its witness on.
func (d *Desk) sign(drafts ...entry.Draft) ([]entry.Verified, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.author == nil {
		return nil, refuse("not-set-up")
	}
	if err := d.sureOfStream(); err != nil {
		return nil, wrap(err, "not-saved")
	}
	if d.Store.Forked(d.author.Stream) > 0 { // a copy of this device writes under our key: what we say from now on must count
		err := d.newStream()
		switch {
		case err == nil:
			if drafts, err = d.nameGrant(drafts); err != nil {
				return nil, err
			}
		case !isRefusal(err, "no-site-key"):
			return nil, err
		case slices.ContainsFunc(drafts, func(x entry.Draft) bool { return x.Kind == model.KindRelease || x.Kind == model.KindClear }):
			return nil, wrap(err, "stream-copied") // facts and stops still count; this would not
		}
	}
	now := d.Clock.Now()
	before := *d.author
	var out []entry.Verified
	for _, x := range drafts {
		if x.Person.IsZero() {
			x.Person = d.acting
		}
		v, err := d.author.Sign(x, now, d.state)
		if err != nil {
			*d.author = before
			return nil, err
		}
		d.author.Advance(v)
		out = append(out, v)
	}
	if err := d.Store.Append(out...); err != nil {
		*d.author, d.unsure = before, true
		return nil, wrap(err, "not-saved")
	}
	d.actedAt = now
	for _, v := range out {
		d.saw(v)
	}
	d.tryRemember()
	return out, nil
}

// nameGrant has releases and clears that were prepared under an older certificate name the one that counts now.
func (d *Desk) nameGrant(drafts []entry.Draft) (out []entry.Draft, err error) {
	var grant []entry.ID
	if err := d.read(func(src register.Source) { grant = d.grant(src.Roster()) }); err != nil {
		return nil, err
	}
	for _, x := range drafts {
		if x.Kind == model.KindRelease || x.Kind == model.KindClear {
			x.Relies = append(slices.Clone(x.Relies), grant...)
		}
		out = append(out, x)
	}
	return out, nil
}

// NewID makes an id for a noun.
func (d *Desk) NewID() model.ID {
	u, err := uuid.NewV7()
	if err != nil { // no randomness: the system is beyond use
		panic(err)
	}
	return model.ID(u)
}

// grant is the entry that certifies our stream; every release and clear names it.
func (d *Desk) grant(r trust.Roster) []entry.ID {
	dev, _ := r.Device(d.author.Stream)
	if len(dev.Grants) == 0 {
		return nil
	}
	out := append([]entry.ID{dev.Grants[0].Device}, dev.Grants[0].Site...)
	return append(out, r.RestsOn(out...)...)
}

// authority is what a release or clear about a noun names: our certificate, what gives the noun its house, and where we speak for another site the acceptance by its root.
func (d *Desk) authority(src register.Source, ref model.Ref) []entry.ID {
	r := src.Roster()
	out := append(d.grant(r), register.Founding(src, ref)...)
	if site, ok := register.House(src, ref); ok && site != d.ownSite(r) {
		out = append(out, r.Acceptances(site)...)
	}
	return out
}

// Acts counts what this device has signed: equal counts, nothing new of ours.
func (d *Desk) Acts() uint64 {
	if d.author == nil {
		return 0
	}
	return d.author.Seq
}

// StreamName is our stream, for people.
func (d *Desk) StreamName() string { return hex.EncodeToString(d.author.Stream[:4]) }

// allows says whether an entry's device may say what it says, of our site.
func (d *Desk) allows(v entry.Verified) (yes bool) {
	err := d.read(func(src register.Source) { yes = d.ours(src, v) })
	return err == nil && yes
}

// mayTell says whether an entry's device may say what it says, of whatever site.
func (d *Desk) mayTell(v entry.Verified) (yes bool) {
	err := d.read(func(src register.Source) { yes = src.Roster().Allows(v) })
	return err == nil && yes
}

// gone says whether an entry is by a device whose word no longer counts for the good.
func (d *Desk) gone(v entry.Verified) (yes bool) {
	err := d.read(func(src register.Source) { yes = src.Roster().Gone(v) })
	return err != nil || yes
}
