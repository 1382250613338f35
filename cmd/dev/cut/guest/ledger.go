//go:build linux

package main

// A ledger is the storage under test. Acts are numbered 1, 2, 3, ... and
// appended in that order, each by a commit of its own.
type ledger interface {
	// Append makes act n durable. When it returns nil, act n must outlive a
	// power cut.
	Append(n int) error

	// Have returns the number of the last act when every act from 1 on is
	// there, and an error with the last unbroken number when one is missing.
	Have() (int, error)

	// Check returns what is damaged: in the structure of the files or in the
	// content of an act.
	Check() error

	Close() error
}

// ledgers opens the ledger named by mvuke.ledger. Opening must create what is
// not there yet, and must repair what a power cut may leave behind, exactly
// as the program under test does when it starts.
//
// To put another storage under test, write its ledger in a file of its own
// and name it here.
var ledgers = map[string]func(settings) (ledger, error){
	"sqlite": openSQLite,
}
