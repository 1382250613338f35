package bundle

import (
	"crypto/ed25519"
	"crypto/sha256"

	"mvuke/model"
	"mvuke/model/entry"
)

// Format is that of manifest and standing.
const Format = 1

// Manifest says what a part is and from whom; the sender signs it, and by its Hash everything in the part.
type Manifest struct {
	Format   uint64           `cbor:"1,keyasint"`
	District entry.District   `cbor:"2,keyasint"`
	ID       [16]byte         `cbor:"3,keyasint"`
	Part     uint64           `cbor:"4,keyasint"`
	Of       uint64           `cbor:"5,keyasint"`
	Sender   entry.Stream     `cbor:"6,keyasint"`
	Wall     int64            `cbor:"7,keyasint"`
	Clock    model.ClockState `cbor:"8,keyasint"`
	Entries  uint64           `cbor:"9,keyasint"`
	Hash     [32]byte         `cbor:"10,keyasint"`
	Hints    [32]byte         `cbor:"11,keyasint"`
}

// Head is the end of a stream, or of one branch of a forked one, that somebody holds.
type Head struct {
	Stream entry.Stream `cbor:"1,keyasint"`
	Seq    uint64       `cbor:"2,keyasint"`
	ID     entry.ID     `cbor:"3,keyasint"`
}

// Standing is what a device holds.
type Standing struct {
	Format   uint64         `cbor:"1,keyasint"`
	District entry.District `cbor:"2,keyasint"`
	Holder   entry.Stream   `cbor:"3,keyasint"`
	Counter  uint64         `cbor:"4,keyasint"`
	Wall     int64          `cbor:"5,keyasint"`
	Heads    []Head         `cbor:"6,keyasint"`
}

// Signed is a manifest or a standing as it was signed.
type Signed struct {
	Raw []byte `cbor:"1,keyasint"`
	Key []byte `cbor:"2,keyasint"`
	Sig []byte `cbor:"3,keyasint"`
}

const (
	domainManifest = "mvuke bundle 1"
	domainStanding = "mvuke standing 1"
)

func message(domain string, raw []byte) []byte {
	sum := sha256.Sum256(raw)
	return append([]byte(domain), sum[:]...)
}

func sign(domain string, v any, key ed25519.PrivateKey) (Signed, error) {
	raw, err := canonical.Marshal(v)
	if err != nil {
		return Signed{}, err
	}
	return Signed{raw, key.Public().(ed25519.PublicKey), ed25519.Sign(key, message(domain, raw))}, nil
}

func (s Signed) open(domain string, into any) error {
	if len(s.Key) != ed25519.PublicKeySize || !ed25519.Verify(s.Key, message(domain, s.Raw), s.Sig) {
		return fault(Unsigned, "the signature does not hold")
	}
	var head struct {
		Format uint64 `cbor:"1,keyasint"`
	}
	if loose.Unmarshal(s.Raw, &head) == nil && head.Format > Format {
		return fault(Newer, "format %d", head.Format)
	}
	if err := read(s.Raw, into); err != nil {
		return fault(Malformed, "%w", err)
	}
	return nil
}

// SignStanding makes a standing to send and to be passed on.
func SignStanding(x Standing, key ed25519.PrivateKey) (Signed, error) {
	x.Format = Format
	return sign(domainStanding, x, key)
}

// OpenStanding verifies one; it must be signed by the holder itself.
func OpenStanding(s Signed) (x Standing, err error) {
	if err := s.open(domainStanding, &x); err != nil {
		return x, err
	}
	if x.Holder != entry.StreamOf(s.Key) {
		return x, fault(Unsigned, "a standing of somebody else")
	}
	return x, nil
}

// Segment is a run of one stream's entries, each following on the one before.
type Segment struct {
	First   uint64
	Entries []entry.Sealed
}
