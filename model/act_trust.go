package model

// Caps is what a device's certificate lets it sign; a bit set.
type Caps uint64

// Caps.
const (
	CapRecord  Caps = 1 << iota // facts, and descriptions on which no mark rests
	CapRelease                  // releases and clears
	CapManage                   // people, policy, site
)

// Needs is the cap that a kind asks for. Holds and rejections need only the right
// to record: anybody may stop a pack.
func (k Kind) Needs() Caps {
	switch {
	case k == KindRelease || k == KindClear:
		return CapRelease
	case k == KindHold || k == KindReject:
		return CapRecord
	case k.Class() == Safety:
		return CapManage
	case k == KindCompared || k == KindReference || k == KindLookedInto || k == KindPieceLost || k == KindHeightTold || k == KindSite || k == KindSterilizer || k == KindGauge: // the mark rests on it, or a search that ends
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
