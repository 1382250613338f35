package bundle

import (
	"bytes"
	"errors"

	"github.com/fxamacker/cbor/v2"
)

var (
	loose     = must(cbor.DecOptions{MaxNestedLevels: MostNested, MaxArrayElements: MostHeads}.DecMode())
	canonical = must(cbor.CoreDetEncOptions().EncMode())
	strict    = must(cbor.DecOptions{
		DupMapKey: cbor.DupMapKeyEnforcedAPF, IndefLength: cbor.IndefLengthForbidden, TagsMd: cbor.TagsForbidden, MaxNestedLevels: MostNested,
		MaxArrayElements: MostHeads, MaxMapPairs: 64, UTF8: cbor.UTF8RejectInvalid, ExtraReturnErrors: cbor.ExtraDecErrorUnknownField,
	}.DecMode())
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// read decodes bytes in their one spelling.
func read(raw []byte, into any) error {
	if err := strict.Unmarshal(raw, into); err != nil {
		return err
	}
	again, err := canonical.Marshal(into)
	if err != nil || !bytes.Equal(again, raw) {
		return errors.New("not in its one spelling")
	}
	return nil
}

// Encode writes a value in its one spelling.
func Encode(v any) ([]byte, error) { return canonical.Marshal(v) }

// Decode reads what Encode wrote, and nothing that is spelled otherwise.
func Decode(raw []byte, into any) error { return read(raw, into) }
