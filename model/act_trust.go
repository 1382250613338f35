package model

import "slices"

// Caps is what a device's certificate lets it sign; a bit set.
type Caps uint64

// Caps.
const (
	CapRecord   Caps = 1 << iota // facts, and descriptions on which no mark rests
	CapRelease                   // releases and clears
	CapManage                    // people, policy, site
	CapDistrict                  // of a device of the office: clinics that join, devices of any site, policies of the district
)

// Needs is the cap that a kind asks for. Holds and rejections need only the right
// to record: anybody may stop a pack.
func (k Kind) Needs() Caps {
	switch {
	case k == KindRelease || k == KindClear:
		return CapRelease
	case k == KindHold || k == KindReject || k == KindRecall:
		return CapRecord
	case k == KindJoined || k == KindProven:
		return CapDistrict
	case k.Class() == Safety:
		return CapManage
	case k == KindCompared || k == KindReference || k == KindLookedInto || k == KindPieceLost || k == KindRecallEnd || k == KindHeightTold || k == KindSite || k == KindSterilizer || k == KindGauge: // the mark rests on it, or a search that ends
		return CapManage
	}
	return CapRecord
}

// Founding is the district's root stating itself.
type Founding struct {
	Name     string `cbor:"1,keyasint"`
	Practice bool   `cbor:"2,keyasint,omitempty"` // a root made to be thrown away: nothing under it was ever sterilized
}

// SiteGrant names the key that speaks for a site.
type SiteGrant struct {
	Site ID     `cbor:"1,keyasint"`
	Key  []byte `cbor:"2,keyasint"`
	Code string `cbor:"3,keyasint,omitempty"` // three letters that begin the numbers of its packs; the root gives each site its own

	Office bool `cbor:"4,keyasint,omitempty"` // the site is the district's office: its devices speak for every clinic that joined
}

// DeviceGrant certifies a device for a site.
type DeviceGrant struct {
	Site   ID     `cbor:"1,keyasint"`
	Key    []byte `cbor:"2,keyasint"`
	Letter string `cbor:"3,keyasint"` // tells devices of one site apart in numbers written by hand
	Caps   Caps   `cbor:"4,keyasint"`
}

// BoxTold says to which key what is sent to a site is locked. Every device of a site has its own; it says nothing of who may sign.
type BoxTold struct {
	Site    ID     `cbor:"1,keyasint"`
	Address string `cbor:"2,keyasint"` // age recipient, "age1..."
}

// DeviceRemoved ends a device: what it signed after Seq is not counted for the good.
type DeviceRemoved struct {
	Stream []byte `cbor:"1,keyasint"`
	Seq    int64  `cbor:"2,keyasint"`
	Reason string `cbor:"3,keyasint"`
}

// Joined takes a clinic that has a root of its own into the district: its root speaks for this one site from now on. Nothing of its past is signed anew.
type Joined struct {
	Root    []byte      `cbor:"1,keyasint"` // district that the clinic was until now: 32 bytes
	Site    ID          `cbor:"2,keyasint"`
	Name    string      `cbor:"3,keyasint"`           // as it asked to be called
	Code    string      `cbor:"4,keyasint"`           // three letters that begin the numbers of its packs from now on; one for each site
	Request []byte      `cbor:"5,keyasint"`           // hash of what it asked, 32 bytes
	Heads   []KnownUpTo `cbor:"6,keyasint,omitempty"` // how far its streams reached when it asked
	Box     string      `cbor:"7,keyasint,omitempty"` // to which what is sent to it is locked, as it asked: other clinics learn it here
}

// Accepted is the clinic's answer, by its root.
type Accepted struct {
	District []byte `cbor:"1,keyasint"` // of the office: 32 bytes
	Joined   []byte `cbor:"2,keyasint"` // the entry that took it in
	Compared bool   `cbor:"3,keyasint"` // the six words were compared, and were alike
}

// Proven says that the office compared the words of a joining, and they were alike.
type Proven struct {
	Joined []byte `cbor:"1,keyasint"`
}

// Succeeded names the key that speaks for a root from now on. The new key signs it too: nobody is named against his will, and nobody else's key is taken in.
type Succeeded struct {
	Key   []byte `cbor:"1,keyasint"` // ed25519 public key, 32 bytes
	Proof []byte `cbor:"2,keyasint"` // signature of that key over SuccessionText, 64 bytes
}

// SuccessionText is what a new key signs to come after an old one in a district.
func SuccessionText(district, old []byte) []byte {
	return slices.Concat([]byte("mvuke successor 1"), district, old)
}
