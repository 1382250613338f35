// Package entry is the envelope: one act of one person, signed by one device and
// never changed afterwards.
//
// # Body, format 1
//
// A body is a deterministic CBOR map (RFC 8949 section 4.2) with these keys:
//
//	 1 format     uint      1
//	 2 district   bytes 32  SHA-256("mvuke district 1", root's public key)
//	 3 stream     bytes 16  SHA-256("mvuke stream 1", author's public key), first half:
//	                        one device, about one site, under one incarnation
//	 4 seq        uint      1, 2, 3... in the stream
//	 5 previous   bytes 32  id of the entry before it in the stream; zeros for the first
//	 6 lamport    uint      above that of every entry known when it was written
//	 7 wall       int       the device's wall clock, ms since 1970 UTC, as it stood
//	 8 clock      uint      0 good, 1 doubtful, 2 set by a person's word
//	 9 boot       bytes 16  this run of the machine
//	10 elapsed    int       ms since it started, sleep counted
//	11 person     bytes 16  who acted; testimony
//	12 kind       uint      what is recorded; its merge class follows from its number
//	13 version    uint      of the kind's payload
//	14 targets    [bytes 17] nouns it is about: noun number, id
//	15 replaces   [bytes 32] earlier values of the same field group
//	16 relies     [bytes 32] evidence
//	17 clears     [bytes 32] holds
//	18 payload    any       a map, the kind's own fields
//
// No floats, tags, indefinite lengths, duplicate keys or nesting beyond 8; at most
// 64 KiB. A reader decodes, encodes again and compares: other spellings of the
// same values are refused.
//
// The id of an entry is SHA-256("mvuke entry 1", body). The signature is ed25519
// over "mvuke sign 1" and the id, by the key that the stream names, and travels
// beside the body. Received bytes are verified, never a re-encoding.
//
// # Promise
//
// Verified is made by Sign or by Verify and by nothing else; the store accepts
// nothing else. It says who wrote what, not that the author may: that is package
// trust.
package entry
