package bundle

import (
	"crypto/sha256"
	"errors"

	"mvuke/model/entry"
)

// segment is the stored form.
type segment struct {
	Key    []byte   `cbor:"1,keyasint"`
	First  uint64   `cbor:"2,keyasint"`
	Cut    bool     `cbor:"3,keyasint"`
	Bodies [][]byte `cbor:"4,keyasint"`
	Sigs   [][]byte `cbor:"5,keyasint"`
}

// hashLen is the length of the previous entry's hash in a body.
const hashLen = 32

// hashAt is where the previous entry's hash lies in a body, or lay before it was cut out: after format, district, stream and number. ok is false where
// a body does not begin as all of format 1 do.
func hashAt(body []byte) (at int, ok bool) {
	const seq = 1 + 2 + 3 + 32 + 2 + 16 + 1 // map, format, district, stream, key of the number
	if len(body) <= seq || body[0] != 0xb2 || body[1] != 1 || body[2] != 1 || body[3] != 2 || body[4] != 0x58 || body[5] != 0x20 || body[38] != 3 || body[39] != 0x50 || body[56] != 4 {
		return 0, false
	}
	at = seq + 1
	switch b := body[seq]; {
	case b < 24:
	case b <= 27:
		at += 1 << (b - 24)
	default:
		return 0, false
	}
	at += 3
	return at, len(body) >= at && body[at-3] == 5 && body[at-2] == 0x58 && body[at-1] == 0x20
}

// cut takes the hash out of a body; ok is false where it is not the one expected.
func cut(body []byte, previous [hashLen]byte) (short []byte, ok bool) {
	at, ok := hashAt(body)
	if !ok || len(body) < at+hashLen || [hashLen]byte(body[at:at+hashLen]) != previous {
		return nil, false
	}
	return append(append(make([]byte, 0, len(body)-hashLen), body[:at]...), body[at+hashLen:]...), true
}

// mend puts it back.
func mend(short []byte, previous [hashLen]byte) ([]byte, error) {
	at, ok := hashAt(short)
	if !ok {
		return nil, errors.New("a cut body does not begin as one")
	}
	out := append(make([]byte, 0, len(short)+hashLen), short[:at]...)
	return append(append(out, previous[:]...), short[at:]...), nil
}

// bodyHash is the id of an entry, as model/entry makes it, without verifying.
func bodyHash(body []byte) [hashLen]byte {
	h := sha256.New()
	h.Write([]byte("mvuke entry 1"))
	h.Write(body)
	return [hashLen]byte(h.Sum(nil))
}

// pack makes the stored form of a run of entries of one stream.
func pack(s Segment) segment {
	out := segment{Key: s.Entries[0].Key, First: s.First, Cut: true}
	for i, x := range s.Entries {
		body := x.Body
		if i > 0 && out.Cut {
			short, ok := cut(body, bodyHash(s.Entries[i-1].Body))
			if !ok { // of a form that we do not know: the whole segment goes uncut
				out.Cut = false
				for j := range out.Bodies {
					out.Bodies[j] = s.Entries[j].Body
				}
			} else {
				body = short
			}
		}
		out.Bodies, out.Sigs = append(out.Bodies, body), append(out.Sigs, x.Sig)
	}
	return out
}

// unpack gives the entries back, as they were signed. Their signatures are not looked at here.
func (s segment) unpack() (out Segment, err error) {
	if len(s.Bodies) == 0 || len(s.Bodies) != len(s.Sigs) || s.First == 0 {
		return out, errors.New("a segment whose bodies and signatures do not fit")
	}
	out.First = s.First
	var previous [hashLen]byte
	for i, b := range s.Bodies {
		if i > 0 && s.Cut {
			if b, err = mend(b, previous); err != nil {
				return out, err
			}
		}
		if len(b) > entry.MaxBytes {
			return out, errors.New("an entry larger than its limit")
		}
		previous = bodyHash(b)
		out.Entries = append(out.Entries, entry.Sealed{Body: b, Key: s.Key, Sig: s.Sigs[i]})
	}
	return out, nil
}
