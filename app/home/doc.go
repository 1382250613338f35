// Package home is the data folder: where it lies, the lock that keeps a second
// copy of the program out, the keys, the ballast, and the witness that tells a
// register brought back from a copy.
//
//	DATA/register.db, views.db, drafts.db   package store
//	DATA/keys/root.key site.key device.key  32-byte seeds, mode 0600
//	DATA/lock                               held by the running program
//	DATA/ballast                            room to finish a cycle on a full disk
//	DATA/backup/                            verified copies
//	STATE/witness-ID                        outside DATA: last number and head of our stream
//
// The file system, the clock and the source of randomness come in through
// interfaces, so that tests can break them.
package home
