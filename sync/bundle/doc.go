// Package bundle reads and writes the file on the stick. FORMAT.md says what its bytes are, what they protect against and how much may be in
// them. The writer has one spelling; the reader is strict, and gives out nothing before the last byte is verified.
//
// It knows io.Reader, io.ReaderAt and io.Writer only: no files, no database, no words. A refusal is a Fault with a code.
package bundle
