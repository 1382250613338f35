package entry

import (
	"crypto/ed25519"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"mvuke/model"
)

// Sealed is an entry as it is stored and as it travels.
type Sealed struct {
	Body []byte `cbor:"1,keyasint"`
	Key  []byte `cbor:"2,keyasint"`
	Sig  []byte `cbor:"3,keyasint"`
}

// Verified is an entry whose signature holds. Only Sign and Verify make one.
type Verified struct {
	id     ID
	body   *Body
	sealed Sealed
}

// ID of the entry.
func (v Verified) ID() ID { return v.id }

// Body is what was signed. Read only.
func (v Verified) Body() *Body { return v.body }

// Sealed is the stored form. Read only.
func (v Verified) Sealed() Sealed { return v.sealed }

// IsZero says that there is no entry.
func (v Verified) IsZero() bool { return v.body == nil }

// Draft is what an act brings to the envelope; Author adds the rest.
type Draft struct {
	Kind     model.Kind
	Version  uint64 // 0: 1
	Person   model.ID
	Targets  []model.Ref
	Replaces []ID
	Relies   []ID
	Clears   []ID
	Payload  any
}

// Author signs one stream. Not safe for two goroutines.
type Author struct {
	key      ed25519.PrivateKey
	District District
	Stream   Stream
	Seq      uint64
	Head     ID
	Lamport  uint64 // highest seen anywhere
}

// NewAuthor starts a stream; Resume sets where it stands.
func NewAuthor(key ed25519.PrivateKey, d District) *Author {
	return &Author{key: key, District: d, Stream: StreamOf(key.Public().(ed25519.PublicKey))}
}

// Key is the public key.
func (a *Author) Key() ed25519.PublicKey { return a.key.Public().(ed25519.PublicKey) }

// Resume goes on after the last entry of the stream; lamport is the highest known.
func (a *Author) Resume(seq uint64, head ID, lamport uint64) {
	a.Seq, a.Head, a.Lamport = seq, head, lamport
}

// Sign makes the next entry of the stream. The author moves on only by Advance, after the
// entry is stored, so that a failed write leaves no gap.
func (a *Author) Sign(d Draft, at model.Moment, state model.ClockState) (Verified, error) {
	payload, err := Marshal(d.Payload)
	if err != nil {
		return Verified{}, fmt.Errorf("entry: payload: %w", err)
	}
	b := Body{
		Format: Format, District: a.District, Stream: a.Stream, Seq: a.Seq + 1, Previous: a.Head, Lamport: a.Lamport + 1,
		Wall: at.Wall.UnixMilli(), Clock: state, Boot: at.Boot, Elapsed: at.Elapsed.Milliseconds(),
		Person: d.Person, Kind: d.Kind, Version: max(d.Version, 1),
		Replaces: d.Replaces, Relies: d.Relies, Clears: d.Clears, Payload: payload,
	}
	for _, r := range d.Targets {
		b.Targets = append(b.Targets, r.Bytes())
	}
	raw, err := canonical.Marshal(&b)
	if err != nil {
		return Verified{}, fmt.Errorf("entry: %w", err)
	}
	id := ID(hash("mvuke entry 1", raw))
	return Verify(Sealed{Body: raw, Key: a.Key(), Sig: ed25519.Sign(a.key, signed(id))})
}

// Advance moves the author past an entry of its own.
func (a *Author) Advance(v Verified) {
	if v.body.Stream == a.Stream {
		a.Seq, a.Head = v.body.Seq, v.id
	}
	a.Lamport = max(a.Lamport, v.body.Lamport)
}

func signed(id ID) []byte { return append([]byte("mvuke sign 1"), id[:]...) }

// Verify checks received bytes and is, beside Sign, the only way to a Verified.
func Verify(s Sealed) (Verified, error) {
	if len(s.Key) != ed25519.PublicKeySize {
		return Verified{}, errors.New("entry: no proper key beside it")
	}
	b, err := decode(s.Body)
	if err != nil {
		return Verified{}, err
	}
	if b.Stream != StreamOf(s.Key) {
		return Verified{}, errors.New("entry: signed by another key than its stream's")
	}
	id := ID(hash("mvuke entry 1", s.Body))
	if !ed25519.Verify(s.Key, signed(id), s.Sig) {
		return Verified{}, errors.New("entry: the signature does not hold")
	}
	return Verified{id: id, body: b, sealed: s}, nil
}

// Look reads an entry and does not ask whether its signature holds: for what was verified before and is known to be the same. Nothing is folded by it.
func Look(s Sealed) (ID, *Body, error) {
	b, err := decode(s.Body)
	return ID(hash("mvuke entry 1", s.Body)), b, err
}

// Less orders entries for showing: by Lamport counter, then id. Never by wall time.
func Less(a, b Verified) int {
	switch {
	case a.body.Lamport != b.body.Lamport:
		if a.body.Lamport < b.body.Lamport {
			return -1
		}
		return 1
	case a.id == b.id:
		return 0
	}
	for i := range a.id {
		if a.id[i] != b.id[i] {
			if a.id[i] < b.id[i] {
				return -1
			}
			return 1
		}
	}
	return 0
}

// VerifyAll verifies many, on all cores; the first that fails is the error.
func VerifyAll(xs []Sealed) ([]Verified, error) {
	out := make([]Verified, len(xs))
	errs := make([]error, len(xs))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(xs)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(xs) {
					return
				}
				out[i], errs[i] = Verify(xs[i])
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}
