package entry

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/fxamacker/cbor/v2"

	"mvuke/model"
)

var (
	canonical = must(encOptions().EncMode())
	strict    = must(cbor.DecOptions{
		DupMapKey:         cbor.DupMapKeyEnforcedAPF,
		IndefLength:       cbor.IndefLengthForbidden,
		TagsMd:            cbor.TagsForbidden,
		MaxNestedLevels:   MaxNested,
		MaxArrayElements:  4096,
		MaxMapPairs:       256,
		UTF8:              cbor.UTF8RejectInvalid,
		ExtraReturnErrors: cbor.ExtraDecErrorUnknownField,
	}.DecMode())
)

func encOptions() cbor.EncOptions {
	o := cbor.CoreDetEncOptions()
	o.NilContainers = cbor.NilContainerAsEmpty
	return o
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// ErrFormat says that a body is of a newer format: a newer version of the program is needed.
var ErrFormat = errors.New("entry: written by a newer version of the program")

// Marshal writes a payload in its one spelling.
func Marshal(payload any) (cbor.RawMessage, error) {
	b, err := canonical.Marshal(payload)
	return b, err
}

// decode reads a body strictly: whole, in its one spelling, within its limits.
func decode(raw []byte) (*Body, error) {
	if len(raw) > MaxBytes {
		return nil, fmt.Errorf("entry: %d bytes, more than %d", len(raw), MaxBytes)
	}
	var head struct {
		Format uint64 `cbor:"1,keyasint"`
	}
	if loose, err := (cbor.DecOptions{MaxNestedLevels: MaxNested}).DecMode(); err == nil && loose.Unmarshal(raw, &head) == nil && head.Format > Format {
		return nil, ErrFormat
	}
	var b Body
	if err := strict.Unmarshal(raw, &b); err != nil {
		return nil, fmt.Errorf("entry: %w", err)
	}
	if b.Format != Format {
		return nil, fmt.Errorf("entry: format %d is not known", b.Format)
	}
	again, err := canonical.Marshal(&b)
	if err != nil || !bytes.Equal(again, raw) {
		return nil, errors.New("entry: not in its one spelling")
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	return &b, nil
}

func (b *Body) check() error {
	if b.Lamport > MaxCounter {
		return errors.New("entry: a counter beyond any that was counted")
	}
	if b.Seq == 0 || (b.Seq == 1) != (b.Previous == ID{}) {
		return errors.New("entry: place in the stream does not hold together")
	}
	for what, n := range map[string]int{"targets": len(b.Targets), "replaces": len(b.Replaces), "relies": len(b.Relies), "clears": len(b.Clears)} {
		if n > MaxNames {
			return fmt.Errorf("entry: %d %s, more than %d", n, what, MaxNames)
		}
	}
	for _, t := range b.Targets {
		if _, err := model.RefOf(t); err != nil {
			return fmt.Errorf("entry: %w", err)
		}
	}
	var payload any
	if err := strict.Unmarshal(b.Payload, &payload); err != nil {
		return fmt.Errorf("entry: payload: %w", err)
	}
	if _, ok := payload.(map[any]any); !ok {
		return errors.New("entry: payload is not a map")
	}
	if err := noFloats(payload); err != nil {
		return err
	}
	again, err := canonical.Marshal(payload)
	if err != nil || !bytes.Equal(again, b.Payload) {
		return errors.New("entry: payload not in its one spelling")
	}
	return nil
}

func noFloats(v any) error {
	switch v := v.(type) {
	case float32, float64:
		return errors.New("entry: a float in the payload; numbers are whole, scaled by their unit")
	case []any:
		for _, e := range v {
			if err := noFloats(e); err != nil {
				return err
			}
		}
	case map[any]any:
		for k, e := range v {
			if err := errors.Join(noFloats(k), noFloats(e)); err != nil {
				return err
			}
		}
	}
	return nil
}
