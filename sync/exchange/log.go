package exchange

import (
	"mvuke/model/entry"
	"mvuke/model/trust"
	"mvuke/sync/bundle"
)

// Log is what the errand needs of a register.
type Log interface {
	District() entry.District
	Roster() (trust.Roster, error)
	Heads() ([]bundle.Head, error)
	Has(entry.ID) (bool, error)
	// After gives a stream's entries above a number, in order, in pieces.
	After(stream entry.Stream, seq uint64, give func([]entry.Sealed) error) error
	// Receive takes verified entries in; those that came early wait. grants are the trust entries of the whole file, whatever piece of it this is.
	Receive(vs, grants []entry.Verified) (Took, error)
	Standings() ([]bundle.Signed, error)
	KeepStanding(bundle.Standing, bundle.Signed) error
}

// Took counts what became of entries.
type Took struct {
	New     []entry.Verified
	Had     int
	Waiting int
}
