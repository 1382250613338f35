package work_test

import (
	"crypto/ed25519"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
)

func (b *bench) siteKey() (sk ed25519.PrivateKey) {
	sk, err := home.LoadKey(home.Disk{}, b.dir, home.SiteKey)
	b.check(err)
	return sk
}

func entryDraft(test, cycle model.ID) entry.Draft {
	return entry.Draft{Kind: model.KindSporePlaced, Targets: []model.Ref{{Noun: model.NounTest, ID: test}},
		Payload: model.SporePlaced{Cycle: cycle, Pot: model.ID{7}, Lot: "L", Expires: 1 << 50, Control: true, At: 1}}
}

func (b *bench) remove(a *entry.Author) {
	b.t.Helper()
	b.put(b.authorOf(b.siteKey()), entry.Draft{Kind: model.KindDeviceRemoved, Payload: model.DeviceRemoved{Stream: a.Stream[:], Reason: "stolen"}})
}

func (b *bench) manager(n byte) *entry.Author {
	b.t.Helper()
	a := b.other(n, false)
	b.put(b.authorOf(b.siteKey()), entry.Draft{Kind: model.KindDeviceGrant, Payload: model.DeviceGrant{Site: b.place().ID, Key: a.Key(), Letter: "M",
		Caps: model.CapRecord | model.CapManage | model.CapRelease}})
	return a
}
