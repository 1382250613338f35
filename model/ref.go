package model

import (
	"encoding/base32"
	"errors"
)

// ID names one noun for ever; 16 random bytes (a UUID).
type ID [16]byte

var alphabet = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

func (id ID) String() string { return alphabet.EncodeToString(id[:]) }

// Short is the part of an id that a person may be shown.
func (id ID) Short() string { return id.String()[20:] }

// IsZero says that nothing is named.
func (id ID) IsZero() bool { return id == ID{} }

// Noun is the sort of thing a Ref names.
type Noun uint8

// The nouns. Numbers are stored: never reuse one.
const (
	NounNone       Noun = 0
	NounSite       Noun = 1
	NounSterilizer Noun = 2
	NounGauge      Noun = 3
	NounPerson     Noun = 4
	NounCycle      Noun = 5
	NounPack       Noun = 6
	NounDevice     Noun = 7
	NounPolicy     Noun = 8
	NounCard       Noun = 9
	NounSet        Noun = 10
	NounLot        Noun = 11
	NounTest       Noun = 12 // a spore test
	NounReference  Noun = 13 // a reference gauge
	NounRecall     Noun = 14
	NounHeight     Noun = 15 // what is stated of a site's altitude upwards; the id is the site's
)

// Ref names a noun.
type Ref struct {
	Noun Noun
	ID   ID
}

// Bytes is the stored form, 17 bytes.
func (r Ref) Bytes() []byte { return append([]byte{byte(r.Noun)}, r.ID[:]...) }

// RefOf reads the stored form.
func RefOf(b []byte) (Ref, error) {
	if len(b) != 17 {
		return Ref{}, errors.New("a reference is 17 bytes long")
	}
	r := Ref{Noun: Noun(b[0])}
	copy(r.ID[:], b[1:])
	return r, nil
}
