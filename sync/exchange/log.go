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
	// After gives a stream's entries above a number, in order, in pieces; whole says that a piece was verified before and is the same still.
	After(stream entry.Stream, seq uint64, give func(piece []entry.Sealed, whole bool) error) error
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
