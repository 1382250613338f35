package trust

import (
	"bytes"
	"crypto/ed25519"
	"math/rand/v2"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

func author(n byte, d entry.District) *entry.Author {
	return entry.NewAuthor(ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)), d)
}

type book struct {
	t                       *testing.T
	d                       entry.District
	root, site, other, a, b *entry.Author
	all                     []entry.Verified
}

func newBook(t *testing.T) *book {
	d := entry.DistrictOf(ed25519.NewKeyFromSeed(bytes.Repeat([]byte{1}, 32)).Public().(ed25519.PublicKey))
	x := &book{t: t, d: d, root: author(1, d), site: author(2, d), other: author(3, d), a: author(4, d), b: author(5, d)}
	x.act(x.root, model.KindSiteGrant, model.SiteGrant{Site: model.ID{1}, Key: x.site.Key()})
	x.act(x.root, model.KindSiteGrant, model.SiteGrant{Site: model.ID{2}, Key: x.other.Key()})
	return x
}

func (x *book) act(by *entry.Author, k model.Kind, p any, relies ...entry.ID) entry.Verified {
	x.t.Helper()
	v, err := by.Sign(entry.Draft{Kind: k, Payload: p, Relies: relies}, model.Moment{}, 0)
	if err != nil {
		x.t.Fatal(err)
	}
	by.Advance(v)
	x.all = append(x.all, v)
	return v
}

func (x *book) grant(by, dev *entry.Author, site byte, caps model.Caps) entry.Verified {
	return x.act(by, model.KindDeviceGrant, model.DeviceGrant{Site: model.ID{site}, Key: dev.Key(), Letter: "A", Caps: caps})
}

func (x *book) release(by *entry.Author, relies ...entry.ID) entry.Verified {
	return x.act(by, model.KindRelease, model.Release{}, relies...)
}

const all = model.CapRecord | model.CapRelease | model.CapManage

func TestOnlyCertifiedDevicesMay(t *testing.T) {
	x := newBook(t)
	early := x.release(x.a)
	if r := Build(x.d, x.all); r.Known(early) || r.Allows(early) {
		t.Error("a device without a certificate is in the fold")
	}
	g := x.grant(x.site, x.a, 1, all)
	later := x.release(x.a, g.ID(), x.all[0].ID())
	r := Build(x.d, x.all)
	if !r.Allows(later) || !r.NamesGrant(later) {
		t.Error("a certified device may not release")
	}
	if r.NamesGrant(early) {
		t.Error("a release from before the grant counts by it")
	}
}

func TestCapsBound(t *testing.T) {
	x := newBook(t)
	x.grant(x.site, x.a, 1, model.CapRecord)
	if r := Build(x.d, x.all); r.Allows(x.release(x.a)) || !r.Allows(x.act(x.a, model.KindHold, model.Hold{Code: "x"})) {
		t.Error("a recorder may hold, and may not release")
	}
	x.grant(x.site, x.a, 1, all) // a second grant cannot widen the first
	if r := Build(x.d, x.all); r.Allows(x.release(x.a)) {
		t.Error("two grants allow what both must allow")
	}
}

func TestOneSiteCannotGrantForAnother(t *testing.T) {
	x := newBook(t)
	x.grant(x.other, x.a, 1, all)
	if r := Build(x.d, x.all); r.Allows(x.release(x.a)) {
		t.Error("site 2 certified a device of site 1")
	}
	x.grant(x.a, x.b, 1, all)
	if r := Build(x.d, x.all); r.Known(x.release(x.b)) {
		t.Error("a device certified a device")
	}
}

func TestRemovalWinsInAnyOrder(t *testing.T) {
	x := newBook(t)
	x.grant(x.site, x.a, 1, all)
	x.grant(x.site, x.b, 1, all)
	before, after := x.release(x.a), x.release(x.a)
	s := x.a.Stream
	x.act(x.b, model.KindDeviceRemoved, model.DeviceRemoved{Stream: s[:], Seq: int64(before.Body().Seq)})
	x.act(x.b, model.KindDeviceRemoved, model.DeviceRemoved{Stream: s[:], Seq: 99}) // the lower cut-off counts
	x.grant(x.site, x.a, 1, all)                                                    // and no later grant brings it back
	rng := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		rng.Shuffle(len(x.all), func(i, j int) { x.all[i], x.all[j] = x.all[j], x.all[i] })
		r := Build(x.d, x.all)
		if !r.Allows(before) || r.Allows(after) || !r.Known(after) {
			t.Fatal("before the cut-off it counts, after it only as a claim to stop things")
		}
	}
}

func TestAnotherDistrictIsForeign(t *testing.T) {
	x := newBook(t)
	x.grant(x.site, x.a, 1, all)
	other := x.d
	other[0]++
	a := author(4, other)
	if r := Build(x.d, x.all); r.Known(x.act(a, model.KindStep, model.Step{})) {
		t.Error("an entry of another district is in the fold")
	}
}
