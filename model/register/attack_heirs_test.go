package register

import (
	"crypto/ed25519"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// The law: a word on who comes after the root comes last, and opens a pack.
func TestAttackTheWordOnAnHeirComesLast(t *testing.T) {
	t.Run("it enlarges nothing that no release named", func(t *testing.T) {
		x := newAtk(t, true)
		heir, key, dev := newAuthor(150, x.br.District), newAuthor(151, x.br.District), newAuthor(152, x.br.District)
		l := x.load(x.d1, 1, true)
		sg := x.act(heir, entry.Draft{Kind: model.KindSiteGrant, Payload: model.SiteGrant{Site: siteB, Key: key.Key()}})
		g := x.act(key, entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: siteB, Key: dev.Key(), Letter: "Q", Caps: acaps}})
		x.grants[dev.Stream] = []entry.ID{g.ID(), sg.ID()}
		x.release(dev, l)
		before := x.words(l.p1)
		d := x.br.District
		x.act(x.br, entry.Draft{Kind: model.KindSucceeded, Payload: model.Succeeded{Key: heir.Key(), Proof: ed25519.Sign(akey(150), model.SuccessionText(d[:], x.br.Key()))}})
		x.lawful("the word on an heir", l.p1, before)
	})
}
