// Package sync holds what lets registers meet on a stick: bundle, the file; stick, the drive and the one way of writing to it; exchange, the
// errand between two registers. It is a room, not a package to import: its name would hide the standard library's.
package sync
