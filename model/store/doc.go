// Package store keeps the register on disk. It holds the only SQL in the tree.
//
// Three files in one folder:
//
//	register.db  signed entries and nothing else, in a schema that never migrates
//	views.db     read tables; disposable, catches up from a position mark
//	drafts.db    what is typed and not yet signed, one row a field
//
// An act is acknowledged when Append returns nil: it is committed with full
// sync. Read tables follow and may be rebuilt at any time. The store accepts
// entry.Verified only, and verifies again whatever it reads back.
//
// After a failed write the database is closed, opened again and checked, and the
// write is tried once more; ids make that harmless. A disk that is full gives up
// its ballast first, so that the cycle under way can be finished.
package store
