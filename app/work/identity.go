package work

import (
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
	"mvuke/model/trust"
)

// Who we sign as: our stream, its certificate by the site's key, and what the witness remembers.

// resume goes on with our stream, or starts a new one where the witness says that this
// register is a copy or was brought back from one.
func (d *Desk) resume(key ed25519.PrivateKey) error {
	a := entry.NewAuthor(key, d.Store.District())
	seq, head, lamport, err := d.Store.Resume(a.Stream)
	if err != nil {
		return d.unread(err)
	}
	w, ok, err := d.witness.Read()
	if err != nil {
		return err
	}
	d.Memory = home.Remember(w, ok, a.Stream[:], seq, func(n uint64) ([]byte, bool) {
		id, found := d.Store.HeadAt(a.Stream, n)
		return id[:], found
	})
	a.Resume(seq, head, lamport)
	d.author = a
	if d.Memory == home.MemoryGood && d.Store.Forked(a.Stream) > 0 {
		err := d.newStream() // a copy of this device wrote beside it: what follows is told apart from now on
		if !isRefusal(err, "no-site-key") {
			return err
		}
		d.Memory = home.MemoryOther // facts and stops still count under the old key: the register opens
		return nil
	}
	if d.Memory == home.MemoryGood {
		if ok, err := d.certified(); err != nil {
			return err
		} else if !ok && seq == 0 {
			return d.newStream() // cut short between making the key and having it certified
		}
		d.tryRemember()
		return nil
	}
	if err := d.newStream(); err != nil {
		return err
	}
	r := model.Restored{OldStream: a.Stream[:], LastSeq: int64(seq), WitnessSeq: int64(w.Seq)}
	drafts := []entry.Draft{{Kind: model.KindRestored, Payload: r, Targets: []model.Ref{{Noun: model.NounDevice, ID: model.ID(a.Stream)}}}}
	open, err := d.openCycles()
	if err != nil {
		return d.unread(err)
	}
	for _, id := range open { // what was recorded after the copy may have been the bad news
		drafts = append(drafts, entry.Draft{Kind: model.KindHold, Payload: model.Hold{Code: HoldRestored}, Targets: []model.Ref{{Noun: model.NounCycle, ID: id}}})
	}
	_, err = d.sign(drafts...)
	return err
}

// HoldRestored stops a load whose later records may be missing.
const HoldRestored = "restored-gap"

// certified says whether a grant names our stream.
func (d *Desk) certified() (ok bool, err error) {
	err = d.read(func(src register.Source) { _, ok = src.Roster().Device(d.author.Stream) })
	return ok, err
}

// certifiedStream says whether a stream's device is certified and its word counts.
func (d *Desk) certifiedStream(s entry.Stream) (yes bool) {
	err := d.read(func(src register.Source) {
		dev, ok := src.Roster().Device(s)
		yes = ok && !dev.Removed && dev.Forked == 0 && dev.Caps&model.CapRecord != 0
	})
	return err == nil && yes
}

// newStream makes a new key for this device and has the site's key certify it, on the spot.
func (d *Desk) newStream() error {
	siteKey, err := home.LoadKey(d.fs, d.Dir, home.SiteKey)
	if err != nil {
		return wrap(err, "no-site-key")
	}
	site, err := d.siteOfKey(siteKey.Public().(ed25519.PublicKey))
	if err != nil {
		return err
	}
	if site.IsZero() {
		return refuse("no-site-key")
	}
	return d.certify(siteKey, site)
}

// siteOfKey is the site that our own root named a key for; zero where it named it for none.
func (d *Desk) siteOfKey(key ed25519.PublicKey) (site model.ID, err error) {
	vs, err := d.Store.ByKind(model.KindSiteGrant)
	for _, v := range vs {
		var g model.SiteGrant
		if v.Body().District == d.Store.District() && v.Body().Decode(&g) == nil && string(g.Key) == string(key) {
			site = g.Site
		}
	}
	return site, err
}

func (d *Desk) certify(siteKey ed25519.PrivateKey, site model.ID) error {
	key, err := home.MakeKey(d.fs, d.rnd, d.Dir, home.DeviceKey)
	if err != nil {
		return err
	}
	grant := model.DeviceGrant{Site: site, Key: key.Public().(ed25519.PublicKey),
		Caps: model.CapRecord | model.CapRelease | model.CapManage}
	err = d.read(func(src register.Source) {
		if s, _ := src.Roster().Site(site); s.Office {
			grant.Caps |= model.CapDistrict
		}
		grant.Letter = letters(src.Roster(), site, grant.Key)
	})
	if err != nil {
		return err
	}
	v, err := d.signBy(siteKey, entry.Draft{Kind: model.KindDeviceGrant, Payload: grant,
		Targets: []model.Ref{{Noun: model.NounDevice, ID: model.ID(entry.StreamOf(grant.Key))}, {Noun: model.NounSite, ID: site}}})
	if err != nil {
		return err
	}
	d.author = entry.NewAuthor(key, d.Store.District())
	d.author.Resume(0, entry.ID{}, v.Body().Lamport)
	return d.remember()
}

// signBy signs one act by a root's or a site's key, and has it committed.
func (d *Desk) signBy(key ed25519.PrivateKey, draft entry.Draft) (v entry.Verified, err error) {
	by := entry.NewAuthor(key, d.Store.District())
	seq, head, lamport, err := d.Store.Resume(by.Stream)
	if err != nil {
		return v, err
	}
	by.Resume(seq, head, lamport)
	draft.Person = d.acting
	if v, err = by.Sign(draft, d.Clock.Now(), d.state); err != nil {
		return v, err
	}
	if err := d.Store.Append(v); err != nil {
		return v, wrap(err, "not-saved")
	}
	if d.author != nil {
		d.author.Lamport = max(d.author.Lamport, v.Body().Lamport)
	}
	return v, nil
}

// letters tell the devices of a site apart in the numbers that people write. The first has one letter; every other takes three from its key, so that two that were begun
// from one folder and never meet do not number alike (one chance in 6,859), and none takes those of another that is known.
func letters(r trust.Roster, site model.ID, key []byte) string {
	taken := map[string]bool{}
	for _, dev := range r.Devices(site) {
		taken[dev.Letter] = true
	}
	if len(taken) == 0 {
		return clearLetters[:1]
	}
	for n := byte(0); ; n++ {
		h := sha256.Sum256(append([]byte{n}, key...))
		v := binary.BigEndian.Uint64(h[:8])
		var out []byte
		for range 3 {
			out = append(out, clearLetters[v%uint64(len(clearLetters))])
			v /= uint64(len(clearLetters))
		}
		if !taken[string(out)] || n == 255 {
			return string(out)
		}
	}
}

func (d *Desk) remember() error {
	return d.witness.Write(d.author.Stream[:], d.author.Seq, d.author.Head[:])
}

// tryRemember is for where the acts are safe: a witness that cannot be written, on a full disk
// for one, only makes the next start ask more.
func (d *Desk) tryRemember() {
	if err := d.remember(); err != nil {
		fmt.Fprintln(os.Stderr, "mvuke: the witness could not be written:", err)
	}
}

// KeyWords are the words of a key for paper; none where the key is not on this device. Whoever holds them can speak for the site, or for the whole district: the one in charge
// copies them.
func (d *Desk) KeyWords(name string) ([]string, error) {
	if err := d.mayManage(); err != nil {
		return nil, err
	}
	if name == home.RootKey { // of a root that was replaced the words are worth nothing
		if _, err := d.rootKey(); isRefusal(err, "no-root-key") || isRefusal(err, "root-replaced") {
			return nil, nil
		} else if err != nil {
			return nil, err
		}
	}
	words, err := home.WordsOfKey(d.fs, d.Dir, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return words, err
}

// KeyFits says whether a public key is the one that this register knows by a name: its own root's, or one that its root named for a site.
func (d *Desk) KeyFits(name string, key ed25519.PublicKey) (bool, error) {
	if name == home.RootKey {
		fits := false
		err := d.read(func(src register.Source) { fits = src.Roster().RootKey(d.Store.District(), key) })
		return fits, err
	}
	site, err := d.siteOfKey(key)
	return !site.IsZero(), err
}
