package bundle

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"encoding/binary"
	"fmt"
	"io"
)

var (
	magic    = []byte{0x89, 'M', 'V', 'B', 0x0d, 0x0a, 0x1a, 0x0a}
	endMagic = []byte{0x0a, 0x1a, 0x0a, 0x0d, 'B', 'V', 'M', 0x89}
)

// Magic is how every bundle begins.
func Magic() []byte { return bytes.Clone(magic) }

// Version of the container.
const Version = 1

const (
	preamble = 12 // magic, version, length of the header
	trailer  = 48
	hintLen  = 8
)

// Header is what anybody can read.
type Header struct {
	ID     [16]byte `cbor:"1,keyasint"`
	Part   uint64   `cbor:"2,keyasint"`
	Of     uint64   `cbor:"3,keyasint"`
	Hints  [][]byte `cbor:"4,keyasint"`
	Sealed uint64   `cbor:"5,keyasint"`
	Plain  uint64   `cbor:"6,keyasint"`
	Must   []uint64 `cbor:"7,keyasint"`
}

// hint is what tells a recipient that a bundle is for them, and nobody else anything.
func hint(id [16]byte, recipient string) []byte {
	h := sha256.New()
	h.Write([]byte("mvuke hint 1"))
	h.Write(id[:])
	h.Write([]byte(recipient))
	return h.Sum(nil)[:hintLen]
}

// hintsHash binds what stands outside to what the sender signs.
func hintsHash(hints [][]byte) [32]byte { return sha256.Sum256(bytes.Join(hints, nil)) }

// For says whether the bundle is encrypted to a recipient (as age writes it, "age1...").
func (h Header) For(recipient string) bool {
	want := hint(h.ID, recipient)
	for _, x := range h.Hints {
		if bytes.Equal(x, want) {
			return true
		}
	}
	return false
}

// Part is a file that was looked at from outside: whole, not altered, of a version that is known.
type Part struct {
	Header
	Hash [32]byte // of the trailer; names the file

	r      io.ReaderAt
	sealed int64 // where the sealed part begins
}

// Look reads trailer, then header, and checks every byte against the trailer's hash. Nothing is opened.
func Look(r io.ReaderAt, size int64) (*Part, error) {
	if size < preamble+trailer {
		return nil, small(r, size)
	}
	if size > MostRead {
		return nil, fault(TooLarge, "%d bytes", size)
	}
	var head [preamble]byte
	var tail [trailer]byte
	if err := at(r, head[:], 0); err != nil {
		return nil, err
	}
	if err := at(r, tail[:], size-trailer); err != nil {
		return nil, err
	}
	switch {
	case !bytes.Equal(head[:8], magic):
		return nil, fault(NotABundle, "it begins with other bytes")
	case !bytes.Equal(tail[40:], endMagic) || binary.BigEndian.Uint64(tail[:8]) != uint64(size):
		return nil, fault(Incomplete, "it does not end as it should")
	}
	p := &Part{r: r, Hash: [32]byte(tail[8:40])}
	sum := sha256.New()
	if _, err := io.Copy(sum, io.NewSectionReader(r, 0, size-trailer+8)); err != nil {
		return nil, &Fault{Damaged, err}
	}
	if !bytes.Equal(sum.Sum(nil), p.Hash[:]) {
		return nil, fault(Damaged, "its bytes are not those that were written")
	}
	if v := binary.BigEndian.Uint16(head[8:10]); v > Version {
		return nil, fault(Newer, "version %d", v)
	} else if v == 0 {
		return nil, fault(Malformed, "version 0")
	}
	n := int64(binary.BigEndian.Uint16(head[10:12]))
	if n > MostHeader || preamble+n+trailer > size {
		return nil, fault(Malformed, "a header of %d bytes", n)
	}
	raw := make([]byte, n)
	if err := at(r, raw, preamble); err != nil {
		return nil, err
	}
	if err := read(raw, &p.Header); err != nil {
		return nil, fault(Malformed, "header: %w", err)
	}
	p.sealed = preamble + n
	return p, p.check(size)
}

func (p *Part) check(size int64) error {
	h := p.Header
	switch {
	case len(h.Must) > 0:
		return fault(Newer, "features %v", h.Must)
	case h.Part == 0 || h.Part > h.Of || h.Of > MostParts:
		return fault(Malformed, "part %d of %d", h.Part, h.Of)
	case len(h.Hints) == 0 || len(h.Hints) > MostRecipients:
		return fault(Malformed, "%d recipients", len(h.Hints))
	case h.Sealed != uint64(size-trailer-p.sealed):
		return fault(Malformed, "the sealed part has another length")
	case h.Plain > plainLimit(h.Plain, h.Sealed):
		return fault(TooLarge, "%d bytes in %d", h.Plain, h.Sealed)
	}
	return nil
}

// small says what a file is that is shorter than any bundle.
func small(r io.ReaderAt, size int64) error {
	begin := make([]byte, min(size, int64(len(magic))))
	if err := at(r, begin, 0); err != nil || !bytes.HasPrefix(magic, begin) || size == 0 {
		if size == 0 {
			return fault(Incomplete, "it is empty")
		}
		return fault(NotABundle, "it begins with other bytes")
	}
	return fault(Incomplete, "it ends in its beginning")
}

func at(r io.ReaderAt, b []byte, off int64) error {
	if n, err := r.ReadAt(b, off); n < len(b) {
		return &Fault{Damaged, fmt.Errorf("cannot be read: %w", err)}
	}
	return nil
}

// Name is the name of the file: it says nothing.
func (p *Part) Name() string {
	return fmt.Sprintf("MV%s-%d-%d.MVB", base32.StdEncoding.EncodeToString(p.Hash[:5]), p.Part, p.Of)
}
