package bundle

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"errors"
	"io"

	"filippo.io/age"
	"github.com/klauspost/compress/zstd"

	"mvuke/model/entry"
)

// Opened is a part of which every byte was verified.
type Opened struct {
	*Part
	Manifest  Manifest
	Sender    ed25519.PublicKey
	Standings []Signed // each verified; of whom to believe them is for the reader

	keys []age.Identity
}

// Open verifies a whole part: decryption to the last byte, the manifest's signature, the hash over all frames, the form of each. It gives out no
// entry: Each does, by a second reading of what was verified.
func (p *Part) Open(keys ...age.Identity) (*Opened, error) {
	o := &Opened{Part: p, keys: keys}
	sum, frames, entries := sha256.New(), uint64(0), uint64(0)
	err := p.each(keys, func(kind byte, whole []byte) error {
		raw := whole[5:]
		if frames++; (kind == frameManifest) != (frames == 1) {
			return fault(Malformed, "the manifest is not the first frame, or stands twice")
		}
		if kind != frameManifest && kind != frameEnd {
			sum.Write(whole)
		}
		switch kind {
		case frameManifest:
			var s Signed
			if err := read(raw, &s); err != nil {
				return fault(Malformed, "manifest: %w", err)
			}
			o.Sender = s.Key
			return s.open(domainManifest, &o.Manifest)
		case frameStanding:
			var s Signed
			if err := read(raw, &s); err != nil {
				return fault(Malformed, "standing: %w", err)
			}
			if _, err := OpenStanding(s); err != nil {
				return err
			}
			o.Standings = append(o.Standings, s)
		case frameSegment:
			s, err := segmentOf(raw)
			entries += uint64(len(s.Entries))
			return err
		case frameEnd:
			var e end
			if err := read(raw, &e); err != nil || e.Frames != frames-1 {
				return fault(Malformed, "%d frames, and the end says %d", frames-1, e.Frames)
			}
		default:
			return fault(Newer, "a frame of type %d", kind)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return o, o.fits([32]byte(sum.Sum(nil)), entries)
}

func (o *Opened) fits(sum [32]byte, entries uint64) error {
	m := o.Manifest
	switch {
	case m.Hash != sum:
		return fault(Unsigned, "the sender signed something else")
	case m.Hints != hintsHash(o.Header.Hints) || m.ID != o.ID || m.Part != o.Part.Part || m.Of != o.Of:
		return fault(Unsigned, "the outside says something else than the sender")
	case m.Sender != entry.StreamOf(o.Sender):
		return fault(Unsigned, "signed by another device than it names")
	case m.Entries != entries:
		return fault(Malformed, "%d entries, and the manifest says %d", entries, m.Entries)
	}
	return nil
}

// Each gives the segments out, in order.
func (o *Opened) Each(take func(Segment) error) error {
	return o.each(o.keys, func(kind byte, whole []byte) error {
		if kind != frameSegment {
			return nil
		}
		s, err := segmentOf(whole[5:])
		if err != nil {
			return err
		}
		return take(s)
	})
}

func segmentOf(raw []byte) (Segment, error) {
	var s segment
	if err := read(raw, &s); err != nil {
		return Segment{}, fault(Malformed, "segment: %w", err)
	}
	out, err := s.unpack()
	if err != nil {
		return out, fault(Malformed, "segment: %w", err)
	}
	return out, nil
}

// each opens the sealed part and reads its frames to the very end.
func (p *Part) each(keys []age.Identity, do func(kind byte, whole []byte) error) error {
	open, err := age.Decrypt(io.NewSectionReader(p.r, p.sealed, int64(p.Header.Sealed)), keys...)
	var none *age.NoIdentityMatchError
	switch {
	case errors.As(err, &none):
		return &Fault{NotForUs, err}
	case err != nil:
		return &Fault{Damaged, err}
	}
	z, err := zstd.NewReader(open, zstd.WithDecoderConcurrency(1), zstd.WithDecoderLowmem(true), zstd.WithDecoderMaxWindow(Window), zstd.WithDecoderMaxMemory(MostPlain))
	if err != nil {
		return err
	}
	defer z.Close()
	r := &counted{r: z, left: p.Plain}
	for ended := false; !ended; {
		kind, whole, err := getFrame(r)
		if err != nil {
			return err
		}
		if err := do(kind, whole); err != nil {
			return err
		}
		ended = kind == frameEnd
	}
	if r.left != 0 {
		return fault(Malformed, "fewer bytes than declared")
	}
	var one [1]byte // the encryption's last check comes at its end
	if n, err := z.Read(one[:]); n > 0 {
		return fault(TooLarge, "more bytes than declared")
	} else if !errors.Is(err, io.EOF) {
		return opened(err)
	}
	if n, err := open.Read(one[:]); n > 0 || !errors.Is(err, io.EOF) {
		return fault(Malformed, "something after the frames")
	}
	return nil
}

// counted gives out no more than was declared.
type counted struct {
	r    io.Reader
	left uint64
}

func (c *counted) Read(b []byte) (int, error) {
	if c.left == 0 {
		return 0, io.EOF
	}
	if uint64(len(b)) > c.left {
		b = b[:c.left]
	}
	n, err := c.r.Read(b)
	c.left -= uint64(n)
	return n, err
}

// LookBytes is Look for a part in memory.
func LookBytes(b []byte) (*Part, error) { return Look(bytes.NewReader(b), int64(len(b))) }
