package trust

import (
	"crypto/ed25519"
	"math/rand/v2"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// succeed has one key name another, which signs that too; alone: without the other's signature.
func (x *book) succeed(old, heir *entry.Author, heirSeed byte, alone bool) entry.Verified {
	x.t.Helper()
	d := x.d
	key := ed25519.NewKeyFromSeed(seedOf(heirSeed))
	proof := ed25519.Sign(key, model.SuccessionText(d[:], old.Key()))
	if alone {
		proof = make([]byte, ed25519.SignatureSize)
	}
	return x.act(old, model.KindSucceeded, model.Succeeded{Key: heir.Key(), Proof: proof})
}

func seedOf(n byte) []byte {
	out := make([]byte, 32)
	for i := range out {
		out[i] = n
	}
	return out
}

// eachOrder builds the roster from many orders of the entries, and doubles.
func (x *book) eachOrder(look func(Roster)) {
	rng := rand.New(rand.NewPCG(7, 9))
	for range 30 {
		list := append([]entry.Verified{x.all[rng.IntN(len(x.all))]}, x.all...)
		rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		look(Build(x.d, list))
	}
}

func TestASuccessorSpeaksForTheRoot(t *testing.T) {
	x := newBook(t)
	heir, third := author(21, x.d), author(22, x.d)
	x.succeed(x.root, heir, 21, false)
	x.act(heir, model.KindSiteGrant, model.SiteGrant{Site: model.ID{3}, Key: third.Key()})
	g := x.grant(third, x.a, 3, all)
	x.grant(x.site, x.b, 1, all)
	mine, before := x.release(x.a, g.ID()), x.release(x.b)
	x.eachOrder(func(r Roster) {
		if !r.Allows(mine) || !r.RootKey(x.d, heir.Key()) || r.RootKey(x.d, x.root.Key()) {
			t.Fatal("the successor does not speak for the root")
		}
		if !r.Allows(before) {
			t.Fatal("what the root granted before it left does not count any more")
		}
		if len(r.Successions(x.d)) != 1 {
			t.Fatal("the word on the successor is lost")
		}
	})
}

func TestAnOldRootOnlyStops(t *testing.T) {
	x := newBook(t)
	heir, late := author(21, x.d), author(23, x.d)
	x.grant(x.site, x.b, 1, all)
	x.succeed(x.root, heir, 21, false)
	x.act(x.root, model.KindSiteGrant, model.SiteGrant{Site: model.ID{9}, Key: late.Key(), Office: true})
	x.grant(late, x.a, 9, all)
	x.act(x.root, model.KindSiteGrant, model.SiteGrant{Site: model.ID{1}, Key: late.Key()}) // another key for a site that is there
	x.grant(late, x.a, 1, all)
	x.grant(x.root, x.a, 1, all)
	free, hold := x.release(x.a), x.act(x.a, model.KindHold, model.Hold{Code: "x"})
	x.eachOrder(func(r Roster) {
		if r.Allows(free) || r.Speaks(free, model.ID{1}) {
			t.Fatal("a root that left certified a device")
		}
		if !r.Known(hold) {
			t.Fatal("what was stopped by a device that the old root named is out of the fold")
		}
		if s, _ := r.Site(model.ID{9}); s.Office {
			t.Fatal("a root that left made an office")
		}
	})
	s := x.b.Stream
	x.act(x.root, model.KindDeviceRemoved, model.DeviceRemoved{Stream: s[:], Seq: 0})
	after := x.release(x.b)
	if r := Build(x.d, x.all); r.Allows(after) {
		t.Error("a removal by the old root does not count")
	}
}

func TestNobodyIsNamedWithoutItsOwnSignature(t *testing.T) {
	x := newBook(t)
	x.grant(x.site, x.a, 1, all)
	free := x.release(x.a)
	x.succeed(x.root, x.a, 4, true) // would make a root, which releases nothing, of a device
	if r := Build(x.d, x.all); !r.Allows(free) || !r.RootKey(x.d, x.root.Key()) {
		t.Error("a root took a device's key in without that key's word")
	}
}

func TestOfTwoSuccessorsNeitherSpeaks(t *testing.T) {
	x := newBook(t)
	heir, thief, site := author(21, x.d), author(24, x.d), author(25, x.d)
	copied := *x.root // a copy of the root's key, gone on with from here
	x.act(x.root, model.KindSiteGrant, model.SiteGrant{Site: model.ID{5}, Key: x.site.Key()})
	x.succeed(x.root, heir, 21, false)
	x.succeed(&copied, thief, 24, false) // with a lower number than the true one
	for _, by := range []*entry.Author{thief, heir, x.root} {
		x.act(by, model.KindSiteGrant, model.SiteGrant{Site: model.ID{6}, Key: site.Key()})
	}
	x.grant(site, x.a, 6, all)
	free := x.release(x.a)
	x.eachOrder(func(r Roster) {
		if r.Allows(free) || r.RootKey(x.d, heir.Key()) || r.RootKey(x.d, thief.Key()) || r.RootKey(x.d, x.root.Key()) {
			t.Fatal("somebody speaks for a root of which two successors were named")
		}
	})
}

func TestASecondWordAfterTheFirstChangesNothing(t *testing.T) {
	x := newBook(t)
	heir, late, next := author(21, x.d), author(24, x.d), author(26, x.d)
	x.succeed(x.root, heir, 21, false)
	x.succeed(x.root, late, 24, false) // in the same line, after it
	x.succeed(heir, next, 26, false)   // the successor has one of its own
	x.succeed(next, next, 26, false)   // and nobody comes after himself
	x.eachOrder(func(r Roster) {
		if r.RootKey(x.d, late.Key()) || r.RootKey(x.d, heir.Key()) || !r.RootKey(x.d, next.Key()) {
			t.Fatal("the line of a root is not what its keys said first")
		}
	})
}
