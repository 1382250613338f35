//go:build linux

package main

import (
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"errors"
	"fmt"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// A ledger is the project's own store, driven as the program drives it: every
// act is a signed entry in a commit of its own. Acts are numbered 1, 2, 3...
//
// The keys are fixed, so that the boot after a cut signs with the same ones;
// nothing but the store is on the disk under test.
type ledger struct {
	store *store.Store
	dev   *entry.Author
}

// note is what act n says: its number.
type note struct {
	N    int    `cbor:"1,keyasint"`
	Text string `cbor:"2,keyasint"`
}

func text(n int) string { return fmt.Sprintf("act %010d, %014d", n, n*7919) }

func key(n byte) ed25519.PrivateKey { return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)) }

// open opens the store, or founds it: a root, a site and the device that signs
// the acts, all in one commit. What a cut may leave behind is repaired by the
// store itself or not at all.
func open(dir, sync string) (*ledger, error) {
	s, err := store.Open(dir, store.Options{Synchronous: sync})
	if err != nil {
		return nil, err
	}
	l := &ledger{store: s, dev: entry.NewAuthor(key(3), entry.DistrictOf(key(1).Public().(ed25519.PublicKey)))}
	if err := l.found(); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	seq, head, lamport, err := s.Resume(l.dev.Stream)
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	l.dev.Resume(seq, head, lamport)
	return l, nil
}

func (l *ledger) found() error {
	if err := l.store.SetDistrict(l.dev.District); err != nil {
		return err
	}
	if n, err := l.store.Count(); err != nil || n > 0 {
		return err
	}
	root, site := entry.NewAuthor(key(1), l.dev.District), entry.NewAuthor(key(2), l.dev.District)
	var vs []entry.Verified
	for _, x := range []struct {
		by *entry.Author
		entry.Draft
	}{
		{root, entry.Draft{Kind: model.KindFounding, Payload: model.Founding{Name: "Ngareli"}}},
		{root, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: model.ID{1}, Key: site.Key()}}},
		{site, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: model.ID{1}, Key: l.dev.Key(), Letter: "A", Caps: 7}}},
	} {
		v, err := sign(x.by, x.Draft)
		if err != nil {
			return err
		}
		x.by.Advance(v)
		vs = append(vs, v)
	}
	return l.store.Append(vs...)
}

func sign(by *entry.Author, d entry.Draft) (entry.Verified, error) {
	return by.Sign(d, model.Moment{Wall: time.Now()}, model.ClockGood)
}

// Append makes act n durable: when it returns nil, act n must outlive a power
// cut. The act is about a pack of its own, so that the read tables grow too.
func (l *ledger) Append(n int) error {
	pack := model.Ref{Noun: model.NounPack}
	binary.BigEndian.PutUint64(pack.ID[8:], uint64(n))
	v, err := sign(l.dev, entry.Draft{Kind: model.KindNote, Targets: []model.Ref{pack}, Payload: note{n, text(n)}})
	if err != nil {
		return err
	}
	if err := l.store.Append(v); err != nil {
		return err
	}
	l.dev.Advance(v)
	return nil
}

// Have returns the number of the last act when every act from 1 on is there
// with its own content, and an error with the last unbroken number otherwise.
func (l *ledger) Have() (int, error) {
	vs, err := l.store.ByKind(model.KindNote)
	if err != nil {
		return 0, err
	}
	for i, v := range vs {
		var x note
		if err := v.Body().Decode(&x); err != nil {
			return i, err
		}
		if x.N != i+1 || x.Text != text(x.N) {
			return i, fmt.Errorf("act %d is missing, %q is there", i+1, x.Text)
		}
	}
	return len(vs), nil
}

// Check has the store check everything it can: files, signatures, chains and
// read tables.
func (l *ledger) Check() error {
	r, err := l.store.Check(nil)
	if err == nil && !r.OK() {
		err = errors.New(r.Faults[0])
	}
	return err
}

func (l *ledger) Close() error { return l.store.Close() }
