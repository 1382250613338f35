package bundle

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"io"

	"filippo.io/age"
	"github.com/klauspost/compress/zstd"

	"mvuke/model"
	"mvuke/model/entry"
)

// Sender is who writes a bundle, when, and to whom.
type Sender struct {
	District   entry.District
	Key        ed25519.PrivateKey // of the device
	Wall       int64
	Clock      model.ClockState
	Recipients []*age.X25519Recipient
	ID         [16]byte // random, new for each bundle
}

// Content is what goes into a bundle: standings first, then segments in the order that they are to be taken in.
type Content struct {
	Standings []Signed
	Segments  []Segment
}

// Split parts a content into what fits a file each. Standings go with the first.
func Split(c Content) (parts []Content) {
	now, size := Content{Standings: c.Standings}, 0
	for _, s := range c.Standings {
		size += len(s.Raw) + 200
	}
	for _, s := range c.Segments {
		n := weight(s)
		if size+n > perPart && len(now.Segments) > 0 {
			parts, now, size = append(parts, now), Content{}, 0
		}
		now.Segments = append(now.Segments, s)
		size += n
	}
	return append(parts, now)
}

func weight(s Segment) (n int) {
	for _, x := range s.Entries {
		n += len(x.Body) + len(x.Sig) + 16
	}
	return n + 64
}

// Segments cuts a run of one stream's entries, in order from a number on, into segments that fit a frame.
func Segments(first uint64, entries []entry.Sealed) (out []Segment) {
	for len(entries) > 0 {
		n, size := 0, 0
		for n < len(entries) && n < 4000 && (n == 0 || size < perSegment) {
			size += len(entries[n].Body) + len(entries[n].Sig) + 16
			n++
		}
		out = append(out, Segment{First: first, Entries: entries[:n]})
		first, entries = first+uint64(n), entries[n:]
	}
	return out
}

// Write writes one part: the k-th of n.
func Write(w io.Writer, s Sender, part, of int, c Content) error {
	if len(s.Recipients) == 0 || len(s.Recipients) > MostRecipients || part < 1 || part > of || of > MostParts {
		return fmt.Errorf("bundle: part %d of %d to %d recipients", part, of, len(s.Recipients))
	}
	var sealed bytes.Buffer
	h := Header{ID: s.ID, Part: uint64(part), Of: uint64(of), Must: []uint64{}}
	var to []age.Recipient
	for _, r := range s.Recipients {
		to = append(to, r)
		h.Hints = append(h.Hints, hint(s.ID, r.String()))
	}
	plain, err := s.frames(h, c)
	if err != nil {
		return err
	}
	h.Plain = uint64(plain.Len())
	lock, err := age.Encrypt(&sealed, to...)
	if err != nil {
		return err
	}
	z, err := zstd.NewWriter(lock, zstd.WithEncoderConcurrency(1), zstd.WithWindowSize(Window))
	if err != nil {
		return err
	}
	if _, err := z.Write(plain.Bytes()); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	if err := lock.Close(); err != nil {
		return err
	}
	h.Sealed = uint64(sealed.Len())
	return s.file(w, h, sealed.Bytes())
}

// frames are the manifest, all else, and the end.
func (s Sender) frames(h Header, c Content) (*bytes.Buffer, error) {
	var rest bytes.Buffer
	m := Manifest{Format: Format, District: s.District, ID: s.ID, Part: h.Part, Of: h.Of, Hints: hintsHash(h.Hints), Sender: entry.StreamOf(s.Key.Public().(ed25519.PublicKey)), Wall: s.Wall, Clock: s.Clock}
	for _, x := range c.Standings {
		if err := putFrame(&rest, frameStanding, x); err != nil {
			return nil, err
		}
	}
	for _, x := range c.Segments {
		if err := putFrame(&rest, frameSegment, pack(x)); err != nil {
			return nil, err
		}
		m.Entries += uint64(len(x.Entries))
	}
	m.Hash = sha256.Sum256(rest.Bytes())
	signed, err := sign(domainManifest, m, s.Key)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := putFrame(&out, frameManifest, signed); err != nil {
		return nil, err
	}
	out.Write(rest.Bytes())
	return &out, putFrame(&out, frameEnd, end{uint64(1 + len(c.Standings) + len(c.Segments))})
}

func (s Sender) file(w io.Writer, h Header, sealed []byte) error {
	raw, err := canonical.Marshal(h)
	if err != nil {
		return err
	}
	size := preamble + len(raw) + len(sealed) + trailer
	if len(raw) > MostHeader || size > MostWritten {
		return fault(TooLarge, "%d bytes, and %d of header", size, len(raw))
	}
	sum := sha256.New()
	out := io.MultiWriter(w, sum)
	var begin [preamble]byte
	copy(begin[:], magic)
	binary.BigEndian.PutUint16(begin[8:], Version)
	binary.BigEndian.PutUint16(begin[10:], uint16(len(raw)))
	length := binary.BigEndian.AppendUint64(nil, uint64(size))
	for _, b := range [][]byte{begin[:], raw, sealed, length} {
		if _, err := out.Write(b); err != nil {
			return err
		}
	}
	_, err = w.Write(append(sum.Sum(nil), endMagic...))
	return err
}
