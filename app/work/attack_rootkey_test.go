package work_test

import (
	"crypto/ed25519"
	"testing"

	"mvuke/app/demo"
	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Somebody read the root's words, the root was replaced, and he writes with them all the same: with a number from before it.
func TestAttackTheOldWordsReleaseALoad(t *testing.T) {
	t.Run("a load that nobody released stays not released", func(t *testing.T) {
		b := desk(t)
		id, _ := b.cycle(demo.Burn{Packs: 2, First: 1, Strip: true, FireDies: true})
		old, err := home.LoadKey(home.Disk{}, b.dir, home.RootKey)
		b.check(err)
		b.check(b.d.ReplaceRoot())
		mine := ed25519.NewKeyFromSeed(make([]byte, ed25519.SeedSize))
		thief, dev := entry.NewAuthor(old, b.d.Store.District()), entry.NewAuthor(mine, b.d.Store.District())
		thief.Lamport, dev.Lamport = 1, 100_000
		sign := func(a *entry.Author, x entry.Draft) entry.Verified {
			x.Person = model.ID{1}
			v, err := a.Sign(x, b.clk.Now(), model.ClockGood)
			b.check(err)
			a.Advance(v)
			r, err := b.d.Store.Receive([]entry.Verified{v})
			if err != nil || len(r.Taken) != 1 {
				t.Fatal(r, err)
			}
			return v
		}
		g := sign(thief, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: b.place().ID, Key: dev.Key(), Letter: "Q", Caps: model.CapRecord | model.CapManage | model.CapRelease}})
		c, err := b.d.Cycle(id)
		b.check(err)
		sign(dev, entry.Draft{Kind: model.KindRelease, Targets: c.Entry.Body().Refs(), Relies: append(c.Evidence(), g.ID()), Payload: model.Release{Judged: model.Judged{Verdict: model.Shown}}})
		if w := word(b, id); w == register.Usable {
			t.Errorf("a failed load, released by the old words after they were replaced, is %s", w)
		}
	})
}
