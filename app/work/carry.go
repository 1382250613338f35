package work

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/store"
	"mvuke/model/trust"
	"mvuke/sync/bundle"
	"mvuke/sync/exchange"
)

// Carrying entries between registers on a stick: our register as the errand sees it, and the key that opens what is sent to us.

// carrier is the register for the errand.
type carrier struct{ d *Desk }

func (c carrier) District() entry.District { return c.d.Store.District() }

func (c carrier) Roster() (r trust.Roster, err error) {
	err = c.d.read(func(src register.Source) { r = src.Roster() })
	return r, err
}

func (c carrier) Heads() (out []bundle.Head, err error) {
	heads, err := c.d.Store.Heads()
	for _, h := range heads {
		out = append(out, bundle.Head{Stream: h.Stream, Seq: h.Seq, ID: h.ID})
	}
	return out, err
}

func (c carrier) Has(id entry.ID) (bool, error) { return c.d.Store.Has(id) }

func (c carrier) After(s entry.Stream, seq uint64, give func([]entry.Sealed, bool) error) error {
	return c.d.Store.After(s, seq, give)
}

func (c carrier) Receive(vs, grants []entry.Verified) (exchange.Took, error) {
	c.d.mu.Lock()
	defer c.d.mu.Unlock()
	r, err := c.d.Store.Receive(vs, grants...)
	for _, v := range vs { // our next act is written in knowledge of them
		if v.Body().Lamport < entry.MaxCounter/2 {
			c.d.author.Lamport = max(c.d.author.Lamport, v.Body().Lamport)
		}
	}
	for _, v := range r.Taken { // under our key, and not by us: a copy of this device goes on somewhere
		c.d.copied = c.d.copied || v.Body().Stream == c.d.author.Stream
	}
	return exchange.Took{New: r.Taken, Had: r.Had, Waiting: r.Waiting}, err
}

func (c carrier) Standings() (out []bundle.Signed, err error) {
	list, err := c.d.Store.Standings()
	for _, x := range list {
		out = append(out, bundle.Signed{Raw: x.Raw, Key: x.Key, Sig: x.Sig})
	}
	return out, err
}

func (c carrier) KeepStanding(x bundle.Standing, s bundle.Signed) error {
	return c.d.Store.KeepStanding(store.Standing{Holder: x.Holder, Counter: x.Counter, Raw: s.Raw, Key: s.Key, Sig: s.Sig})
}

// boxFile keeps the key that opens what is sent to us, on a device that does not hold the site's key.
func boxFile(dir string) string { return filepath.Join(dir, "keys", "box.key") }

// box is the key that opens what is sent to us: that of the site, which each device with the site's key has, else one of our own.
func (d *Desk) box() (b exchange.Box, err error) {
	if d.author == nil {
		return b, refuse("not-set-up")
	}
	site, err := home.LoadKey(d.fs, d.Dir, home.SiteKey)
	switch {
	case err == nil:
		b, err = exchange.BoxOf(site.Seed())
	case errors.Is(err, fs.ErrNotExist):
		b, err = d.ownBox()
	}
	if err != nil {
		return b, wrap(err, "damaged-key")
	}
	return b, nil
}

// toldBox is box, told to the district: who takes out can be answered.
func (d *Desk) toldBox() (b exchange.Box, err error) {
	if b, err = d.box(); err != nil {
		return b, err
	}
	p, err := d.Place()
	if err != nil {
		return b, err
	}
	told, err := d.boxes(p.ID)
	if err != nil || slices.Contains(told, b.Address()) {
		return b, err
	}
	say := entry.Draft{Kind: model.KindBox, Targets: []model.Ref{{Noun: model.NounSite, ID: p.ID}}, Payload: model.BoxTold{Site: p.ID, Address: b.Address()}}
	_, err = d.sign(say)
	return b, err
}

// ownBox is a box of this device alone, made when it is first needed.
func (d *Desk) ownBox() (b exchange.Box, err error) {
	raw, err := d.fs.ReadFile(boxFile(d.Dir))
	if err == nil {
		return exchange.ParseBox(strings.TrimSpace(string(raw)))
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return b, err
	}
	if b, err = exchange.NewBox(); err != nil {
		return b, err
	}
	return b, home.Replace(d.fs, boxFile(d.Dir), []byte(b.Secret()+"\n"), 0o600)
}

// boxes are the addresses to which what goes to a site is locked.
func (d *Desk) boxes(site model.ID) (out []string, err error) {
	vs, err := d.Store.ByKind(model.KindBox)
	if err != nil {
		return nil, d.unread(err)
	}
	joined, err := d.Store.ByKind(model.KindJoined)
	if err != nil {
		return nil, d.unread(err)
	}
	err = d.read(func(src register.Source) {
		for _, v := range vs {
			var x model.BoxTold
			if src.Roster().Allows(v) && src.Roster().Speaks(v, site) && v.Body().Decode(&x) == nil && x.Site == site && !slices.Contains(out, x.Address) {
				out = append(out, x.Address)
			}
		}
		for _, v := range joined {
			var j model.Joined
			if slices.Contains(src.Roster().Joins(site), v.ID()) && v.Body().Decode(&j) == nil && j.Box != "" && !slices.Contains(out, j.Box) {
				out = append(out, j.Box)
			}
		}
	})
	return out, err
}

// deviceKey is what we sign bundles with.
func (d *Desk) sender(recipients []string) (s bundle.Sender, err error) {
	s.Key, err = home.LoadKey(d.fs, d.Dir, home.DeviceKey)
	if err != nil {
		return s, wrap(err, "damaged-key")
	}
	if _, err := d.rnd.Read(s.ID[:]); err != nil {
		return s, err
	}
	s.District, s.Wall, s.Clock, s.Recipients = d.Store.District(), d.Clock.Now().Wall.UnixMilli(), d.state, exchange.Addresses(recipients)
	return s, nil
}
