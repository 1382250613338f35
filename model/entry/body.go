package entry

import (
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/hex"

	"github.com/fxamacker/cbor/v2"

	"mvuke/model"
)

// Format is the body format that this version writes and reads.
const Format = 1

// Limits of one entry.
const (
	MaxBytes   = 64 << 10
	MaxNested  = 8
	MaxCounter = 1 << 53
	MaxNames   = 1024 // targets, replaces, relies, clears: each
)

// ID names an entry by the hash of its body.
type ID [32]byte

func (id ID) String() string { return hex.EncodeToString(id[:6]) }

// Stream names one device's entries under one incarnation.
type Stream [16]byte

// District names the district by its root key.
type District [32]byte

// Body is what is signed. Slices are not to be changed after signing.
type Body struct {
	Format   uint64           `cbor:"1,keyasint"`
	District District         `cbor:"2,keyasint"`
	Stream   Stream           `cbor:"3,keyasint"`
	Seq      uint64           `cbor:"4,keyasint"`
	Previous ID               `cbor:"5,keyasint"`
	Lamport  uint64           `cbor:"6,keyasint"`
	Wall     int64            `cbor:"7,keyasint"`
	Clock    model.ClockState `cbor:"8,keyasint"`
	Boot     model.ID         `cbor:"9,keyasint"`
	Elapsed  int64            `cbor:"10,keyasint"`
	Person   model.ID         `cbor:"11,keyasint"`
	Kind     model.Kind       `cbor:"12,keyasint"`
	Version  uint64           `cbor:"13,keyasint"`
	Targets  [][]byte         `cbor:"14,keyasint"`
	Replaces []ID             `cbor:"15,keyasint"`
	Relies   []ID             `cbor:"16,keyasint"`
	Clears   []ID             `cbor:"17,keyasint"`
	Payload  cbor.RawMessage  `cbor:"18,keyasint"`
}

func hash(domain string, parts ...[]byte) (sum [32]byte) {
	h := sha256.New()
	h.Write([]byte(domain))
	for _, p := range parts {
		h.Write(p)
	}
	h.Sum(sum[:0])
	return sum
}

// StreamOf is the stream that a key signs.
func StreamOf(key ed25519.PublicKey) (s Stream) {
	sum := hash("mvuke stream 1", key)
	copy(s[:], sum[:])
	return s
}

// DistrictOf is the district that a root key founds.
func DistrictOf(root ed25519.PublicKey) District { return hash("mvuke district 1", root) }

// HoldID names the hold that a cause lays on a target, so that a clear can name it
// even where nobody wrote the hold as an entry of its own.
func HoldID(cause ID, target model.Ref) ID { return hash("mvuke hold 1", cause[:], target.Bytes()) }

// Refs are the targets.
func (b *Body) Refs() []model.Ref {
	out := make([]model.Ref, 0, len(b.Targets))
	for _, t := range b.Targets {
		if r, err := model.RefOf(t); err == nil {
			out = append(out, r)
		}
	}
	return out
}

// Decode reads the payload into the kind's own struct; unknown fields of a newer
// version are an error, so that nobody acts on half of what was meant.
func (b *Body) Decode(into any) error { return strict.Unmarshal(b.Payload, into) }
