package bundle

import (
	"encoding/binary"
	"errors"
	"io"
)

// Types of frames.
const (
	frameManifest = 1
	frameStanding = 2
	frameSegment  = 3
	frameEnd      = 9
)

type end struct {
	Frames uint64 `cbor:"1,keyasint"`
}

// putFrame writes one frame.
func putFrame(w io.Writer, kind byte, v any) error {
	raw, err := canonical.Marshal(v)
	if err != nil {
		return err
	}
	if len(raw) > MostFrame {
		return fault(TooLarge, "a frame of %d bytes", len(raw))
	}
	var head [5]byte
	binary.BigEndian.PutUint32(head[:], uint32(len(raw)))
	head[4] = kind
	if _, err := w.Write(head[:]); err != nil {
		return err
	}
	_, err = w.Write(raw)
	return err
}

// getFrame reads one frame whole.
func getFrame(r io.Reader) (kind byte, whole []byte, err error) {
	var head [5]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return 0, nil, opened(err)
	}
	n := binary.BigEndian.Uint32(head[:])
	if n > MostFrame {
		return 0, nil, fault(TooLarge, "a frame of %d bytes", n)
	}
	whole = make([]byte, 5+n)
	copy(whole, head[:])
	if _, err := io.ReadFull(r, whole[5:]); err != nil {
		return 0, nil, opened(err)
	}
	return head[4], whole, nil
}

// opened names an error that came while the sealed part was opened.
func opened(err error) error {
	var f *Fault
	switch {
	case errors.As(err, &f):
		return err
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return fault(Malformed, "the frames end too early")
	}
	return &Fault{Damaged, err}
}
